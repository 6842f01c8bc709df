//! Pictures that somebody puts into a folder: a telephone's, a camera's, a screen's.

use super::{Heard, Source};
use crate::label::bitmap::Bitmap;
use crate::label::readback::read_back;
use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

const LOOK_EVERY: Duration = Duration::from_millis(300);
/// Where pictures go when they were looked at, so that none is read twice.
const READ: &str = "read";
const NOT_READ: &str = "not-read";
/// A telephone's picture is below this; what is larger would hold the kiosk up.
const BYTES_MOST: u64 = 32 * 1024 * 1024;

/// A folder that is watched.
pub struct Pictures {
    folder: PathBuf,
    /// Sizes at the last look: a picture that still grows is being copied.
    seen: BTreeMap<PathBuf, u64>,
}

impl Pictures {
    /// This folder, which must exist.
    pub const fn new(folder: PathBuf) -> Self {
        Self { folder, seen: BTreeMap::new() }
    }

    /// One look: takes what has come to rest since the last.
    fn take(&mut self, hear: &mut dyn FnMut(Heard)) -> io::Result<()> {
        let mut now = BTreeMap::new();
        for file in fs::read_dir(&self.folder)? {
            let file = file?;
            let (path, about) = (file.path(), file.metadata()?);
            if about.is_file() && is_picture(&path) {
                now.insert(path, about.len());
            }
        }
        for (path, size) in &now {
            if self.seen.get(path) == Some(size) && *size > 0 {
                self.take_one(path, *size, hear)?;
            }
        }
        self.seen = now;
        Ok(())
    }

    fn take_one(&self, path: &Path, size: u64, hear: &mut dyn FnMut(Heard)) -> io::Result<()> {
        let code = if size > BYTES_MOST { None } else { read(&fs::read(path)?) };
        // Moved before it is told: what was told once is never told again, whatever happens now.
        let aside = self.folder.join(if code.is_some() { READ } else { NOT_READ });
        fs::create_dir_all(&aside)?;
        let name = path.file_name().unwrap_or_default();
        fs::rename(path, aside.join(name))?;
        hear(match code {
            Some(code) => Heard::Scan(code),
            None => Heard::NoCode { file: name.to_string_lossy().into_owned() },
        });
        Ok(())
    }
}

fn read(bytes: &[u8]) -> Option<String> {
    read_back(&Bitmap::from_picture(bytes).ok()?).ok()
}

fn is_picture(path: &Path) -> bool {
    let kind = path.extension().and_then(|kind| kind.to_str()).map(str::to_ascii_lowercase);
    matches!(kind.as_deref(), Some("png" | "jpg" | "jpeg"))
}

impl Source for Pictures {
    fn name(&self) -> String {
        self.folder.display().to_string()
    }

    fn look(&mut self) -> io::Result<()> {
        fs::read_dir(&self.folder).map(drop)
    }

    fn read(&mut self, over: &AtomicBool, hear: &mut dyn FnMut(Heard)) -> io::Result<()> {
        self.look()?;
        hear(Heard::There { source: self.name() });
        while !over.load(Ordering::Relaxed) {
            self.take(hear)?;
            std::thread::sleep(LOOK_EVERY);
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;
    use crate::label::render::tests_content;
    use crate::label::{LabelLayout, render};
    use sparkout_core::label::HubAddress;

    #[test]
    fn a_picture_is_read_once_when_it_has_come_to_rest() {
        let folder = tempfile::tempdir().unwrap();
        let mut pictures = Pictures::new(folder.path().to_owned());
        let drawn =
            render(&tests_content(), &HubAddress::parse("hub.example").unwrap(), &LabelLayout::default()).unwrap();
        let png = drawn.bitmap.png().unwrap();
        // As a telephone sends it: shades of grey, lossy.
        let (width, height) = (drawn.bitmap.width(), drawn.bitmap.height());
        let grey = image::GrayImage::from_raw(width, height, drawn.bitmap.luma()).unwrap();
        grey.save_with_format(folder.path().join("b.JPG"), image::ImageFormat::Jpeg).unwrap();
        fs::write(folder.path().join("a.png"), &png[..200]).unwrap();
        fs::write(folder.path().join("notes.txt"), "no picture").unwrap();
        let mut heard = Vec::new();
        pictures.take(&mut |what| heard.push(what)).unwrap();
        assert!(heard.is_empty(), "it may still be growing");
        fs::write(folder.path().join("a.png"), &png).unwrap();
        pictures.take(&mut |what| heard.push(what)).unwrap();
        assert_eq!(heard, [Heard::Scan(drawn.url.clone())], "the JPEG; the PNG has just grown");
        pictures.take(&mut |what| heard.push(what)).unwrap();
        pictures.take(&mut |what| heard.push(what)).unwrap();
        assert_eq!(heard, [Heard::Scan(drawn.url.clone()), Heard::Scan(drawn.url)]);
        assert!(folder.path().join("read/b.JPG").exists() && folder.path().join("notes.txt").exists());
    }

    #[test]
    fn a_picture_without_a_code_is_told_and_set_aside() {
        let folder = tempfile::tempdir().unwrap();
        let mut pictures = Pictures::new(folder.path().to_owned());
        fs::write(folder.path().join("hand.png"), "not a picture at all").unwrap();
        let mut heard = Vec::new();
        for _ in 0..3 {
            pictures.take(&mut |what| heard.push(what)).unwrap();
        }
        assert_eq!(heard, [Heard::NoCode { file: "hand.png".to_owned() }]);
        assert!(folder.path().join("not-read/hand.png").exists());
    }
}
