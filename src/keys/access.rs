//! Owns the rule that lets the person at the machine read one pedal or keypad without root.

use std::{fs, path::Path};

/// Where the kernel tells names and numbers of input devices; everybody may read it.
const FOLDER: &str = "/sys/class/input";

/// A rule for udev that lets whoever sits at the machine read the device of that name, or of a part of it.
///
/// # Errors
/// In words, when no device is called so, or the kernel does not tell its numbers.
pub fn rule(name: &str) -> Result<String, String> {
    rule_in(Path::new(FOLDER), name)
}

fn rule_in(folder: &Path, name: &str) -> Result<String, String> {
    let wanted = name.to_lowercase();
    let entries = fs::read_dir(folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    let mut devices: Vec<_> = entries
        .flatten()
        .filter(|entry| entry.file_name().to_string_lossy().starts_with("event"))
        .map(|entry| entry.path().join("device"))
        .collect();
    devices.sort();
    let read = |path: &Path| fs::read_to_string(path).map(|text| text.trim().to_owned());
    let device = devices
        .iter()
        .find(|device| read(&device.join("name")).is_ok_and(|known| known.to_lowercase().contains(&wanted)))
        .ok_or_else(|| format!("no device is called \"{name}\""))?;
    let number = |which: &str| {
        let path = device.join("id").join(which);
        match read(&path) {
            Ok(number) if number.len() == 4 && number.chars().all(|one| one.is_ascii_hexdigit()) => {
                Ok(number)
            }
            Ok(other) => Err(format!("{}: \"{other}\" is no number of a device", path.display())),
            Err(error) => Err(format!("{}: {error}", path.display())),
        }
    };
    let (vendor, product) = (number("vendor")?, number("product")?);
    Ok(format!(
        "ACTION!=\"remove\", SUBSYSTEM==\"input\", KERNEL==\"event*\", ATTRS{{id/vendor}}==\"{vendor}\", \
         ATTRS{{id/product}}==\"{product}\", TAG+=\"uaccess\""
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rule_names_the_device_by_its_numbers_alone() {
        let root = tempfile::tempdir().unwrap();
        let write = |event: &str, name: &str, vendor: &str| {
            let device = root.path().join(event).join("device");
            fs::create_dir_all(device.join("id")).unwrap();
            fs::write(device.join("name"), format!("{name}\n")).unwrap();
            fs::write(device.join("id/vendor"), format!("{vendor}\n")).unwrap();
            fs::write(device.join("id/product"), "00ff\n").unwrap();
        };
        write("event0", "Invented Keyboard", "0001");
        write("event1", "Invented Foot Switch", "0a0b");
        write("event2", "Odd", "\" RUN+=\"");
        assert_eq!(
            rule_in(root.path(), "foot switch").unwrap(),
            "ACTION!=\"remove\", SUBSYSTEM==\"input\", KERNEL==\"event*\", ATTRS{id/vendor}==\"0a0b\", \
             ATTRS{id/product}==\"00ff\", TAG+=\"uaccess\""
        );
        assert_eq!(rule_in(root.path(), "pedal").unwrap_err(), "no device is called \"pedal\"");
        assert!(rule_in(root.path(), "odd").unwrap_err().contains("is no number of a device"));
        assert!(rule_in(&root.path().join("none"), "foot").is_err());
    }
}
