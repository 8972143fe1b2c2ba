//! The fresh state: a butter chilled hours ago, not yet settled.

use meltmargin::{behaviour, equilibrium::CrystalState};

use crate::ask::mixture;

#[track_caller]
fn slip_c(id: &str, state: CrystalState) -> f64 {
    behaviour::slip_point(&mixture(&[(id.to_owned(), 100.0)], state)).celsius.unwrap()
}

/// Jin et al. 2017, JAOCS, doi 10.1007/s11746-016-2929-z (abstract), AOCS Cc 3-25 without tempering: slips at
/// 26.7 °C. Form IV, what untempered cocoa butter is in within hours, melts at 27.5 °C (Wille & Lutton 1966,
/// by a secondary source). How much unlike chains disturb beta-prime is fitted to lie between the two, so
/// that neither is a proof.
#[test]
fn untempered_cocoa_butter() {
    let fresh_c = slip_c("cocoa-butter", CrystalState::Fresh);
    assert!((fresh_c - 26.7).abs() <= 0.5, "{fresh_c}");
    let clear_c =
        behaviour::clear_point(&mixture(&[("cocoa-butter".to_owned(), 100.0)], CrystalState::Fresh));
    assert!((clear_c.celsius.unwrap() - 27.5).abs() <= 0.5, "{clear_c:?}");
}

/// Noraini et al. 1995, Fett 97:253 (abstract): slip points of palm shortenings after 16 h and after 1 h of
/// tempering differ by 2 to 3 K, downwards: palm fats do not turn firmer as they settle. Nor do lauric ones,
/// which stay in beta-prime (Timms, from memory).
#[test]
fn palm_and_lauric_fats_set_at_once() {
    for id in ["palm-oil", "palm-stearin", "palm-olein", "coconut-oil", "palm-kernel-oil", "babassu-oil"] {
        let (fresh, settled) = (
            mixture(&[(id.to_owned(), 100.0)], CrystalState::Fresh),
            mixture(&[(id.to_owned(), 100.0)], CrystalState::Settled),
        );
        for celsius in [5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0] {
            let (fresh, settled) = (fresh.at(celsius).solid_percent, settled.at(celsius).solid_percent);
            assert!((fresh - settled).abs() < 0.5, "{id} at {celsius} °C: {fresh} {settled}");
        }
    }
}

/// Seed butters of the cocoa kind do: their beta-prime melts 5 to 7 K below beta (POP, POS, SOS: Wesdorp et
/// al. 2012).
#[test]
fn butters_of_the_cocoa_kind_firm_up() {
    for id in ["cocoa-butter", "shea-butter", "mango-butter", "kokum-butter", "illipe-butter", "sal-butter"] {
        let rise_k = slip_c(id, CrystalState::Settled) - slip_c(id, CrystalState::Fresh);
        assert!((4.0..=8.0).contains(&rise_k), "{id}: {rise_k}");
    }
}
