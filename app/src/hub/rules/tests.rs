use super::*;
use crate::store::keys::StationKey;
use sparkout_core::journal::checkpoint::Checkpoint;
use sparkout_core::journal::proof::consistency_proof;
use sparkout_core::journal::witness::Alarm;
use sparkout_core::journal::{Tree, merkle};

/// A station's journal: its entries and the key that signs their head.
struct Journal {
    key: StationKey,
    name: NamedKey,
    entries: Vec<Vec<u8>>,
}

impl Journal {
    fn of(size: usize) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let key = StationKey::create(&folder.path().join("station.key")).unwrap();
        let name = NamedKey::new("sparkout/station/incarnation", key.public_key()).unwrap();
        Self { key, name, entries: (0..size).map(entry).collect() }
    }

    fn hashes(&self) -> Vec<Hash> {
        self.entries.iter().map(|bytes| leaf_hash(bytes)).collect()
    }

    /// Entries `from..=up_to` of this journal, offered to a hub that vouches for `vouched`.
    fn offer(&self, vouched: u64, from: u64, up_to: u64) -> Offer {
        let hashes = self.hashes();
        let (size, root) = (hashes.len() as u64, merkle::root(&hashes));
        let head = Checkpoint { origin: self.name.name().to_owned(), size, root };
        let proof = |older| consistency_proof(&hashes, older).unwrap_or_default();
        Offer {
            key: self.name.clone(),
            note: head.note(&self.name, &head.sign(|text| self.key.sign(text))),
            growth: proof(vouched),
            from,
            entries: self.entries[from as usize - 1..up_to as usize].to_vec(),
            covered: proof(up_to),
            clock_off_ms: None,
        }
    }
}

/// An entry as a kiosk writes it.
fn entry(number: usize) -> Vec<u8> {
    let at = format!(r#"{{"wall":"2026-05-14T09:30:00Z","monotonic_ms":{number},"boot":"b"}}"#);
    format!(r#"{{"at":{at},"body":{{"kind":"started","version":"test"}}}}"#).into_bytes()
}

/// What a hub has after it took this much.
fn state_after(journal: &Journal, stored: u64) -> LogState {
    let growth = journal.offer(0, 1, stored).judge(&LogState::default(), &[]).unwrap();
    LogState { tree: growth.tree, vouched: Some(growth.head) }
}

fn refusal(judged: Result<Growth, Refused>) -> Refusal {
    judged.expect_err("refused").refusal
}

#[test]
fn a_batch_may_end_anywhere_and_comes_to_the_same_tree() {
    let journal = Journal::of(37);
    let whole = state_after(&journal, 37);
    for batch in [1, 2, 7, 36] {
        let mut state = LogState::default();
        let mut new = 0;
        while state.tree.size() < 37 {
            let from = state.tree.size() + 1;
            let vouched = state.vouched.as_ref().map_or(0, |head| head.size);
            let growth = journal.offer(vouched, from, (from + batch - 1).min(37)).judge(&state, &[]).unwrap();
            assert!(growth.entries.iter().all(|entry| entry.held.is_none()), "{:?}", growth.entries[0].held);
            new += growth.entries.len();
            state = LogState { tree: growth.tree, vouched: Some(growth.head) };
        }
        assert_eq!((new, &state), (37, &whole), "batches of {batch}");
    }
}

#[test]
fn what_is_stored_already_is_not_stored_again() {
    let journal = Journal::of(9);
    let state = state_after(&journal, 6);
    let growth = journal.offer(9, 3, 8).judge(&state, &journal.hashes()[2..6]).unwrap();
    let new: Vec<u64> = growth.entries.iter().map(|entry| entry.seq).collect();
    assert_eq!(new, [7, 8]);
    let nothing_new = journal.offer(9, 1, 6).judge(&state, &journal.hashes()[..6]).unwrap();
    assert_eq!((nothing_new.entries.len(), nothing_new.tree.size()), (0, 6));
}

#[test]
fn each_way_of_not_growing_is_its_own_alarm() {
    let mut journal = Journal::of(9);
    let state = state_after(&journal, 9);
    let hashes = journal.hashes();
    journal.entries.truncate(8);
    let cut = refusal(journal.offer(9, 1, 8).judge(&state, &hashes[..8]));
    assert_eq!(cut, Refusal::Alarm(Alarm::Cut { vouched: 9, size: 8 }));
    journal.entries.push(entry(1000));
    assert_eq!(refusal(journal.offer(9, 1, 8).judge(&state, &hashes[..8])), Alarm::Forked { size: 9 }.into());
    journal.entries.push(entry(1001));
    let rewritten = refusal(journal.offer(9, 10, 10).judge(&state, &[]));
    assert_eq!(rewritten, Alarm::Rewritten { vouched: 9, size: 10 }.into());
    assert!([cut, rewritten].iter().all(Refusal::is_alarm));
}

#[test]
fn another_entry_under_a_stored_number_is_put_aside() {
    let journal = Journal::of(9);
    let state = state_after(&journal, 9);
    let mut offer = journal.offer(9, 4, 6);
    offer.entries[1] = entry(1000);
    let refused = offer.judge(&state, &journal.hashes()[3..6]).unwrap_err();
    assert_eq!(refused.refusal, Refusal::Clash { seq: 5 });
    assert_eq!(refused.aside.len(), 1);
    assert_eq!((refused.aside[0].seq, &refused.aside[0].bytes), (5, &entry(1000)));
}

#[test]
fn only_what_the_signed_head_covers_is_taken() {
    let journal = Journal::of(9);
    let state = state_after(&journal, 4);
    let judged = |change: &dyn Fn(&mut Offer)| {
        let mut offer = journal.offer(9, 5, 7);
        change(&mut offer);
        refusal(offer.judge(&state, &[]))
    };
    let not_covered = Refusal::NotCovered { up_to: 7, size: 9 };
    assert_eq!(judged(&|offer| offer.entries[0] = entry(1000)), not_covered);
    assert_eq!(judged(&|offer| offer.entries.swap(0, 1)), not_covered);
    assert_eq!(judged(&|offer| offer.covered.truncate(offer.covered.len() - 1)), not_covered);
    assert_eq!(judged(&|offer| offer.from = 6), Refusal::Gap { stored: 4, from: 6 });
    assert!(matches!(judged(&|offer| offer.from = 0), Refusal::Form { seq: 0, .. }));
    assert!(matches!(judged(&|offer| offer.entries[2].clear()), Refusal::Form { seq: 7, .. }));
    let long = Refusal::Form { seq: 5, what: "an entry has 1 byte to 1 MiB" };
    assert_eq!(judged(&|offer| offer.entries[0] = vec![b' '; (1 << 20) + 1]), long);
    assert_eq!(judged(&|offer| offer.note = offer.note.replacen("\n9\n", "\n10\n", 1)), Alarm::NotSigned.into());
    let stranger = Journal::of(9);
    assert_eq!(judged(&|offer| offer.note = stranger.offer(9, 5, 7).note), Alarm::NotSigned.into());
}

#[test]
fn an_entry_of_a_form_that_is_not_known_stays_in_the_tree_and_is_held() {
    let mut journal = Journal::of(2);
    journal.entries.push(b"{\"from\":\"the future\"}".to_vec());
    journal.entries.push(entry(4));
    let growth = journal.offer(0, 1, 4).judge(&LogState { tree: Tree::new(), vouched: None }, &[]).unwrap();
    let held: Vec<bool> = growth.entries.iter().map(|entry| entry.held.is_some()).collect();
    assert_eq!(held, [false, false, true, false]);
}
