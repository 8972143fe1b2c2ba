//! Filling in `www/index.html`.

use anyhow::{Result, bail};

/// A page whose places are filled in one by one, each of which must be there exactly once.
pub(crate) struct Page {
    text: String,
}

impl Page {
    pub(crate) fn new(text: &str) -> Self {
        Page { text: text.replace("\r\n", "\n") }
    }

    /// Puts `new` in the place of `old`, which must be there once.
    pub(crate) fn replace(&mut self, old: &str, new: &str) -> Result<()> {
        match self.text.matches(old).count() {
            1 => {
                self.text = self.text.replace(old, new);
                Ok(())
            }
            count => bail!("www/index.html must have `{old}` once, and has it {count} times"),
        }
    }

    /// Puts `new` wherever `old` is.
    pub(crate) fn replace_all(&mut self, old: &str, new: &str) {
        self.text = self.text.replace(old, new);
    }

    /// Puts `new` in the place of the comment `<!-- build:name -->`.
    pub(crate) fn fill(&mut self, name: &str, new: &str) -> Result<()> {
        self.replace(&format!("<!-- build:{name} -->"), new)
    }

    /// The finished page; nothing may be left to fill in.
    pub(crate) fn finish(self) -> Result<String> {
        if let Some(at) = self.text.find("<!-- build:") {
            let rest: String = self.text[at..].chars().take(40).collect();
            bail!("www/index.html asks for something that the packager does not know: {rest}");
        }
        Ok(self.text)
    }
}

#[cfg(test)]
mod tests {
    use super::Page;

    #[test]
    fn each_place_is_filled_once_or_it_is_an_error() {
        let mut page = Page::new("<!-- build:policy --><p>one</p><p>two</p>");
        page.fill("policy", "<meta>").unwrap();
        page.replace("one", "1").unwrap();
        assert!(page.fill("policy", "again").is_err());
        assert!(page.replace("<p>", "").is_err());
        assert_eq!(page.finish().unwrap(), "<meta><p>1</p><p>two</p>");
    }

    #[test]
    fn a_place_left_over_is_an_error() {
        assert!(Page::new("<!-- build:nonsense -->").finish().is_err());
    }
}
