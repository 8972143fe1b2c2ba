//! The names that come nearest to one that is misspelt, without comparing it with them all: most have so many
//! other letters that they cannot come near.

/// A name by its letters alone.
pub(super) struct Letters {
    pub(super) text: String,
    /// How many they are.
    pub(super) count: usize,
    /// How often each stands in the name. Letters whose numbers have the same last five bits are counted
    /// together.
    each: [u8; 32],
}

impl Letters {
    pub(super) fn new(text: String) -> Letters {
        let (mut count, mut each) = (0, [0_u8; 32]);
        for letter in text.chars() {
            let of_this = &mut each[letter as usize % 32];
            *of_this = of_this.saturating_add(1);
            count += 1;
        }
        Letters { text, count, each }
    }

    /// How many mistakes turn one name into the other: a letter more, a letter less, another letter, or two
    /// that changed places.
    fn mistakes(&self, other: &Letters) -> usize {
        #[cfg(test)]
        COMPARED.set(COMPARED.get() + 1);
        strsim::osa_distance(&self.text, &other.text)
    }

    /// So many mistakes at least: each changes how often one letter stands there, or two, one up and one
    /// down.
    fn mistakes_at_least(&self, other: &Letters) -> usize {
        let (mut more, mut fewer) = (0, 0);
        for (mine, theirs) in self.each.iter().zip(&other.each) {
            more += usize::from(mine.saturating_sub(*theirs));
            fewer += usize::from(theirs.saturating_sub(*mine));
        }
        more.max(fewer)
    }

    /// Whether it is the same letters, in whatever order.
    pub(super) fn has_the_same(&self, other: &Letters) -> bool {
        let sorted = |name: &Letters| {
            let mut letters: Vec<char> = name.text.chars().collect();
            letters.sort_unstable();
            letters
        };
        sorted(self) == sorted(other)
    }

    /// Whether so many mistakes are few enough for the one to have been meant by the other. Ours.
    fn comes_near(&self, other: &Letters, mistakes: usize) -> bool {
        other.count.abs_diff(self.count) <= self.count / 3 && mistakes * 5 <= self.count.max(other.count) * 2
    }
}

/// A name that comes near.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Near {
    pub(super) mistakes: usize,
    /// The number of what it is a name of.
    pub(super) of: usize,
    /// The number of the name.
    pub(super) name: usize,
}

/// The names that come nearest, of `wanted` things or fewer, nearest first; with them all that come as near
/// as the last. Of each name its letters and the number of what it is a name of.
pub(super) fn nearest<'a>(
    mine: &Letters,
    names: impl Iterator<Item = (&'a Letters, usize)>,
    wanted: usize,
) -> Vec<Near> {
    // What may come nearest first: the more are near, the sooner no further one can be nearer.
    let mut may_come: Vec<(usize, usize, &Letters, usize)> = names
        .enumerate()
        .map(|(name, (letters, of))| (mine.mistakes_at_least(letters), name, letters, of))
        .filter(|(at_least, _, letters, _)| mine.comes_near(letters, *at_least))
        .collect();
    may_come.sort_unstable_by_key(|(at_least, name, ..)| (*at_least, *name));
    let mut near: Vec<Near> = Vec::new();
    let mut most = usize::MAX;
    for (at_least, name, letters, of) in may_come {
        if at_least > most {
            break;
        }
        let mistakes = mine.mistakes(letters);
        if mistakes <= most && mine.comes_near(letters, mistakes) {
            near.push(Near { mistakes, of, name });
            near.sort_unstable();
            most = mistakes_of(&near, wanted);
            near.retain(|near| near.mistakes <= most);
        }
    }
    near
}

/// How many mistakes lead to the last of so many things; no limit where there are fewer.
fn mistakes_of(near: &[Near], wanted: usize) -> usize {
    let mut of: Vec<usize> = Vec::new();
    for near in near {
        if !of.contains(&near.of) {
            of.push(near.of);
        }
        if of.len() == wanted {
            return near.mistakes;
        }
    }
    usize::MAX
}

#[cfg(test)]
thread_local! {
    /// How many names were compared letter by letter, which takes nearly all of the time: counted by tests.
    pub(super) static COMPARED: std::cell::Cell<usize> = const { std::cell::Cell::new(0) };
}
