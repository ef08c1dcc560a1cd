//! Names of the protocol, and the files that they stand for. A client writes a name as it likes: in one way, signs are
//! encoded that are plain in another. A file has any bytes in its name, and may have several names.

use std::path::{Path, PathBuf};
use tower_lsp::ls_types::Uri;

/// The file that a name of the protocol stands for, if it stands for one.
pub fn file_of(uri: &Uri) -> Option<PathBuf> {
    let is_file = uri.scheme().as_str().eq_ignore_ascii_case("file");
    if is_file { path_in(uri) } else { None }
}

/// The name of a file in the protocol, if the file is named from the root on.
pub fn uri_of(path: &Path) -> Option<Uri> {
    if path.is_absolute() { name_of(path) } else { None }
}

/// Whether two names stand for the same, however each is written.
pub fn is_same(one: &Uri, other: &Uri) -> bool {
    one == other || file_of(one).is_some_and(|file| file_of(other) == Some(file))
}

/// The one name of a file, whether it is there or not: of what is not, the folder that is there is named so.
pub fn place_of(path: &Path) -> PathBuf {
    let there = path.ancestors().find_map(|above| Some((above, std::fs::canonicalize(above).ok()?)));
    let Some((above, place)) = there else { return path.to_owned() };
    match path.strip_prefix(above) {
        Ok(rest) if !rest.as_os_str().is_empty() => place.join(rest),
        _ => place,
    }
}

#[cfg(unix)]
fn path_in(uri: &Uri) -> Option<PathBuf> {
    use std::ffi::OsStr;
    use std::os::unix::ffi::OsStrExt as _;
    let bytes = uri.path().decode().to_bytes();
    (!bytes.is_empty()).then(|| PathBuf::from(OsStr::from_bytes(&bytes)))
}

#[cfg(unix)]
fn name_of(path: &Path) -> Option<Uri> {
    use std::fmt::Write as _;
    use std::os::unix::ffi::OsStrExt as _;
    let mut name = "file://".to_owned();
    for &byte in path.as_os_str().as_bytes() {
        // What RFC 3986 leaves unreserved, section 2.3.
        match byte {
            b'/' | b'-' | b'.' | b'_' | b'~' | b'0'..=b'9' | b'A'..=b'Z' | b'a'..=b'z' => {
                name.push(char::from(byte));
            }
            _ => write!(name, "%{byte:02X}").ok()?,
        }
    }
    name.parse().ok()
}

#[cfg(not(unix))]
fn path_in(uri: &Uri) -> Option<PathBuf> {
    let mut path = uri.to_file_path()?.into_owned().into_os_string().into_string().ok()?;
    // Of a drive, clients write large or small letters.
    if path.as_bytes().get(1) == Some(&b':') {
        path[..1].make_ascii_uppercase();
    }
    Some(PathBuf::from(path))
}

#[cfg(not(unix))]
fn name_of(path: &Path) -> Option<Uri> {
    Uri::from_file_path(path)
}

#[cfg(all(test, unix))]
mod tests {
    use super::*;
    use std::ffi::OsStr;
    use std::os::unix::ffi::OsStrExt as _;

    fn uri(name: &str) -> Uri {
        name.parse().expect("it is a name")
    }

    #[test]
    fn every_way_to_write_a_name_is_the_same_name() {
        let ways =
            ["file:///a%20b/%C3%A4%3a.gset", "file:///a%20b/%c3%a4:.gset", "FILE:///%61%20b/%C3%a4%3A.gset"];
        for way in ways {
            assert_eq!(file_of(&uri(way)), Some(PathBuf::from("/a b/ä:.gset")), "{way}");
            assert!(is_same(&uri(way), &uri(ways[0])));
        }
        assert_eq!(uri_of(Path::new("/a b/ä:.gset")).unwrap().as_str(), "file:///a%20b/%C3%A4%3A.gset");
        assert!(!is_same(&uri("untitled:a"), &uri("untitled:A")));
        assert_eq!((file_of(&uri("untitled:a")), uri_of(Path::new("a"))), (None, None));
    }

    #[test]
    fn a_name_that_is_no_text_is_a_name() {
        let path = Path::new(OsStr::from_bytes(b"/x/\xff\xfe.gset"));
        let name = uri_of(path).unwrap();
        assert_eq!(name.as_str(), "file:///x/%FF%FE.gset");
        assert_eq!(file_of(&name).as_deref(), Some(path));
    }

    #[test]
    fn what_is_not_there_lies_where_its_folder_is() {
        let folder = tempfile::tempdir().unwrap();
        let real = folder.path().canonicalize().unwrap();
        std::fs::create_dir(real.join("real")).unwrap();
        std::os::unix::fs::symlink("real", real.join("link")).unwrap();
        assert_eq!(place_of(&real.join("link/none/a.gset")), real.join("real/none/a.gset"));
        assert_eq!(place_of(&real.join("link")), real.join("real"));
    }
}
