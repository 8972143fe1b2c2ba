//! Species sorted into the solid phases that they crystallise in.

use std::ops::Range;

use crate::substances::Family;

/// A solid phase: the species that share one crystal, side by side in a list of species.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Phase {
    pub(crate) family: Family,
    pub(crate) members: Range<usize>,
}

/// Sorts so many species by the family of each: the order to put them in, and the phases that they then form.
/// Species of one family keep the order that they came in; each of [`Family::Own`] is a phase of its own.
pub(super) fn group(species: usize, family: impl Fn(usize) -> Family) -> (Vec<usize>, Vec<Phase>) {
    let mut order: Vec<usize> = (0..species).collect();
    order.sort_by_key(|at| family(*at));
    let mut phases: Vec<Phase> = Vec::new();
    for (place, at) in order.iter().enumerate() {
        let family = family(*at);
        match phases.last_mut() {
            Some(phase) if phase.family == family && family != Family::Own => phase.members.end = place + 1,
            _ => phases.push(Phase { family, members: place..place + 1 }),
        }
    }
    (order, phases)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn species_of_a_family_lie_side_by_side_and_pure_crystals_alone() {
        let families = [Family::WaxEsters, Family::Own, Family::Alkanes, Family::WaxEsters, Family::Own];
        let (order, phases) = group(families.len(), |at| families[at]);
        assert_eq!(order, [1, 4, 2, 0, 3]);
        let phase = |family, members| Phase { family, members };
        assert_eq!(
            phases,
            [
                phase(Family::Own, 0..1),
                phase(Family::Own, 1..2),
                phase(Family::Alkanes, 2..3),
                phase(Family::WaxEsters, 3..5),
            ]
        );
    }
}
