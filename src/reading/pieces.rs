//! Items as pieces: a name in parts with its amounts, put together from what stands beside each other.

use super::{
    amounts::{Amount, Quantity, Written},
    items::{Item, Sep},
    names::{self, Meaning},
    tokens,
};

/// A name in parts, with its amounts, before it is known what it is.
#[derive(Clone, Debug)]
pub(super) struct Piece {
    pub(super) parts: Vec<(usize, usize)>,
    pub(super) brackets: Vec<(usize, usize)>,
    pub(super) amounts: Vec<Amount>,
    before: Sep,
    pub(super) from: usize,
    pub(super) to: usize,
    /// Whether its words name anything, rather than say how it is.
    named: bool,
}

impl Piece {
    fn new(
        row: &[char],
        parts: Vec<(usize, usize)>,
        brackets: Vec<(usize, usize)>,
        before: Sep,
        from: usize,
        to: usize,
    ) -> Piece {
        let named = parts.iter().any(|(from, to)| !names::says_nothing(&tokens::text(row, *from, *to)));
        Piece { parts, brackets, amounts: Vec::new(), before, from, to, named }
    }

    /// Takes another piece for a part of this one.
    fn take(&mut self, other: Piece) {
        self.parts.extend(other.parts);
        self.brackets.extend(other.brackets);
        self.amounts.extend(other.amounts);
        self.from = self.from.min(other.from);
        self.to = self.to.max(other.to);
        self.named |= other.named;
    }
}

/// A run of texts or of amounts within a fragment.
enum Run {
    Texts(Vec<(usize, usize)>, Vec<(usize, usize)>),
    Amounts(Vec<Amount>, usize, usize),
}

/// Items as pieces; words that belong to none become notes.
pub(super) fn pieces(row: &[char], items: &[Item], notes: &mut Vec<String>) -> Vec<Piece> {
    let mut all: Vec<Piece> = Vec::new();
    let mut before = Sep::Hard;
    let mut begin = 0;
    for at in 0..=items.len() {
        let sep = match items.get(at) {
            None => Sep::Hard,
            Some(Item::Sep(Sep::Soft(_))) => continue,
            Some(Item::Sep(sep)) => *sep,
            Some(_) => continue,
        };
        for piece in fragment(row, &items[begin..at], before, notes) {
            join_or_push(row, &mut all, piece);
        }
        (begin, before) = (at + 1, if begin == at && at > 0 { stronger(before, sep) } else { sep });
    }
    all
}

fn stronger(a: Sep, b: Sep) -> Sep {
    if a == Sep::Hard { a } else { b }
}

/// What stands between two separators.
fn fragment(row: &[char], items: &[Item], before: Sep, notes: &mut Vec<String>) -> Vec<Piece> {
    let mut runs: Vec<Run> = Vec::new();
    let mut heading = None;
    // With several colons, it is names that they stand between.
    let one_colon = items.iter().filter(|item| matches!(item, Item::Sep(Sep::Soft(':')))).count() == 1;
    for item in items {
        match (item, runs.last_mut()) {
            (Item::Amount(amount, _, end), Some(Run::Amounts(amounts, _, to))) => {
                amounts.push(amount.clone());
                *to = *end;
            }
            (Item::Amount(amount, from, to), _) => runs.push(Run::Amounts(vec![amount.clone()], *from, *to)),
            (Item::Text(from, to), Some(Run::Texts(parts, _))) => parts.push((*from, *to)),
            (Item::Text(from, to), _) => runs.push(Run::Texts(vec![(*from, *to)], Vec::new())),
            (Item::Bracket(from, to), Some(Run::Texts(_, brackets))) => brackets.push((*from, *to)),
            // After an amount it may still tell which: “coconut oil 30 % (fractionated)”.
            (Item::Bracket(from, to), Some(Run::Amounts(..))) => {
                let before = runs.len() - 1;
                if let Some(Run::Texts(_, brackets)) = runs[..before].last_mut() {
                    brackets.push((*from, *to));
                }
            }
            // A note before everything.
            (Item::Bracket(..), None) => {}
            (Item::Sep(Sep::Soft(':')), Some(Run::Texts(parts, brackets))) if one_colon => {
                // “HARD: cocoa butter 20 %”: what is no name before a colon is a heading.
                if resolve(row, parts, brackets).is_none() && heading.is_none() {
                    heading =
                        Some((parts.first().map_or(0, |part| part.0), parts.last().map_or(0, |part| part.1)));
                    runs.pop();
                }
            }
            (Item::Sep(_), _) => {}
        }
    }
    if let Some((from, to)) = heading {
        notes.push(tokens::text(row, from, to));
    }
    let known = |run: &Run| match run {
        Run::Texts(parts, brackets) => resolve(row, parts, brackets).is_some(),
        Run::Amounts(..) => false,
    };
    let empty = |run: &Run| match run {
        Run::Texts(parts, _) => {
            parts.iter().all(|(from, to)| names::says_nothing(&tokens::text(row, *from, *to)))
        }
        Run::Amounts(..) => false,
    };
    let amounts = runs.iter().filter(|run| matches!(run, Run::Amounts(..))).count();
    let begins_with_text = matches!(runs.first(), Some(Run::Texts(..)));
    // Whether the name of an amount stands before it. Where both can be, the one that gives more names that
    // are known.
    let name_first = if begins_with_text && runs.len() > 2 * amounts {
        let of =
            |from: usize| runs.iter().skip(from).step_by(2).take(amounts).filter(|run| known(run)).count();
        of(0) >= of(2) && !(amounts == 1 && empty(&runs[0]))
    } else {
        begins_with_text
    };
    let mut all: Vec<Piece> = Vec::new();
    let mut open = false;
    let count = runs.len();
    for (at, run) in runs.into_iter().enumerate() {
        let is_last = at + 1 == count;
        match run {
            Run::Texts(parts, brackets) => {
                let (from, to) = (parts[0].0, parts[parts.len() - 1].1);
                let piece = || Piece::new(row, parts.clone(), brackets.clone(), before, from, to);
                let run = Run::Texts(parts.clone(), brackets.clone());
                match all.last_mut() {
                    Some(last) if open => {
                        last.take(piece());
                        open = name_first;
                    }
                    // What follows a name and its amount.
                    Some(last) if is_last && name_first => {
                        if empty(&run) {
                            last.take(piece());
                        } else if known(&run) && !same(row, last, &parts, &brackets) {
                            all.push(piece());
                        } else if !last.parts.is_empty()
                            && resolve(row, &last.parts, &last.brackets).is_some()
                            && !tells_which(row, last, &parts)
                        {
                            notes.push(tokens::text(row, from, to));
                        } else {
                            last.take(piece());
                        }
                    }
                    // Words before the first amount, where names follow their amounts.
                    None if !name_first && amounts > 0 => notes.push(tokens::text(row, from, to)),
                    _ => {
                        all.push(piece());
                        open = name_first;
                    }
                }
            }
            Run::Amounts(list, from, to) => match all.last_mut() {
                Some(last) if name_first && open => {
                    last.amounts.extend(list);
                    last.to = last.to.max(to);
                    open = false;
                }
                Some(last) if is_last && last.amounts.len() == 1 && !name_first => {
                    last.amounts.extend(list);
                    last.to = last.to.max(to);
                }
                _ => {
                    all.push(Piece {
                        amounts: list,
                        ..Piece::new(row, Vec::new(), Vec::new(), before, from, to)
                    });
                    open = !name_first;
                }
            },
        }
    }
    all
}

fn same(row: &[char], piece: &Piece, parts: &[(usize, usize)], brackets: &[(usize, usize)]) -> bool {
    let one = |found: Option<(String, Meaning)>| match found {
        Some((_, Meaning::One { id, .. })) => Some(id),
        _ => None,
    };
    one(resolve(row, &piece.parts, &piece.brackets))
        .is_some_and(|id| one(resolve(row, parts, brackets)) == Some(id))
}

/// The most parts that a name is put together from.
const MOST_PARTS: usize = 8;

/// The name that parts and brackets give, and what it means; `None` where they mean nothing that is known.
pub(super) fn resolve(
    row: &[char],
    parts: &[(usize, usize)],
    brackets: &[(usize, usize)],
) -> Option<(String, Meaning)> {
    let joined = |spans: &[(usize, usize)]| {
        let mut spans = spans.to_vec();
        spans.sort_unstable();
        spans.iter().map(|(from, to)| tokens::text(row, *from, *to)).collect::<Vec<_>>().join(" ")
    };
    let known = |name: String| names::exact(&name).map(|meaning| (name, meaning));
    if parts.len() + brackets.len() > MOST_PARTS {
        return None;
    }
    let all: Vec<(usize, usize)> = parts.iter().chain(brackets).copied().collect();
    if let Some(found) = known(joined(&all)).or_else(|| known(joined(parts))) {
        return Some(found);
    }
    let mut found: Vec<(String, Meaning)> = parts.iter().filter_map(|part| known(joined(&[*part]))).collect();
    found.dedup_by(|a, b| match (&a.1, &b.1) {
        (Meaning::One { id, .. }, Meaning::One { id: other, .. }) => id == other,
        (one, other) => one == other,
    });
    match found.len() {
        0 => None,
        1 => found.pop(),
        _ => {
            let ids = found.iter().filter_map(|(_, meaning)| match meaning {
                Meaning::One { id, .. } => Some(*id),
                _ => None,
            });
            Some((joined(parts), Meaning::Several(ids.collect())))
        }
    }
}

/// Whether words that are no name by themselves tell which one is meant: “coconut oil 30 %, fractionated”.
fn tells_which(row: &[char], piece: &Piece, parts: &[(usize, usize)]) -> bool {
    let name = |parts: &mut dyn Iterator<Item = &(usize, usize)>| {
        names::exact(
            &parts
                .take(MOST_PARTS)
                .map(|(from, to)| tokens::text(row, *from, *to))
                .collect::<Vec<_>>()
                .join(" "),
        )
    };
    name(&mut parts.iter()).is_none()
        && matches!(name(&mut piece.parts.iter().chain(parts)), Some(Meaning::One { .. }))
}

/// Puts a piece to those before it: as a part of the last, where one has what the other lacks.
fn join_or_push(row: &[char], all: &mut Vec<Piece>, piece: Piece) {
    let Some(last) = all.last_mut() else {
        all.push(piece);
        return;
    };
    // “stearic acid, type 70”: the number is a part of the name.
    let bare =
        |amount: &Amount| amount.written == Written::Nothing && matches!(amount.quantity, Quantity::One(_));
    let numbered = [(piece.from, piece.to)];
    // Beside “EO” every word is of an essential oil.
    let of_a_class = || {
        let essential = |meaning| matches!(meaning, Meaning::One { id: "essential-oil", .. });
        resolve(row, &last.parts, &last.brackets).is_some_and(|(_, meaning)| essential(meaning))
    };
    let bare_amounts = !piece.amounts.is_empty() && piece.amounts.iter().all(bare);
    if bare_amounts && tells_which(row, last, &numbered) && !of_a_class() {
        last.take(Piece { parts: numbered.to_vec(), amounts: Vec::new(), ..piece });
        return;
    }
    let (no_name, lacks_name) = (!piece.named, !last.named);
    let joined = || {
        let parts = last.parts.iter().chain(&piece.parts).take(MOST_PARTS);
        names::exact(&parts.map(|(from, to)| tokens::text(row, *from, *to)).collect::<Vec<_>>().join(" "))
    };
    let joins = match piece.before {
        _ if no_name && piece.amounts.is_empty() => true,
        // “4 oz / 113 g shea”, “1 cup plus 2 tbsp shea”
        Sep::Slash | Sep::And | Sep::Hard
            if lacks_name && !last.amounts.is_empty() && !piece.amounts.is_empty() =>
        {
            piece.named
        }
        Sep::Slash if same(row, last, &piece.parts, &piece.brackets) => true,
        Sep::Or => last.amounts.is_empty() || piece.amounts.is_empty(),
        _ if last.amounts.is_empty() && no_name => !lacks_name,
        _ if lacks_name && last.amounts.is_empty() => true,
        _ if lacks_name && piece.amounts.is_empty() => true,
        Sep::Comma | Sep::And if last.amounts.is_empty() && !lacks_name => {
            matches!(joined(), Some(Meaning::One { .. }))
        }
        Sep::Comma | Sep::And if piece.amounts.is_empty() => tells_which(row, last, &piece.parts),
        // The cells of one row.
        Sep::Hard if no_name && !lacks_name => true,
        _ => false,
    };
    if joins {
        last.take(piece);
    } else {
        all.push(piece);
    }
}
