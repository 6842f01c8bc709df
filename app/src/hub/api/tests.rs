use super::*;

const SNAPSHOT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/src/hub/openapi.json");

/// `SPARKOUT_UPDATE_OPENAPI=1 cargo test -p sparkout openapi` writes it anew: what changes for callers is then seen in
/// review.
#[test]
fn the_openapi_description_is_the_one_that_is_checked_in() {
    let made = description().unwrap() + "\n";
    if std::env::var_os("SPARKOUT_UPDATE_OPENAPI").is_some() {
        std::fs::write(SNAPSHOT, &made).unwrap();
    }
    let kept = std::fs::read_to_string(SNAPSHOT).unwrap();
    assert!(made == kept, "SPARKOUT_UPDATE_OPENAPI=1 cargo test -p sparkout openapi, and look at what changed");
}
