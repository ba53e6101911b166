//! The rooms that decide say values: no sentence stands in their code. A sentence is a string literal that begins with a capital letter
//! and has a blank in it; tests and comments are left out.

use std::{
    fs,
    path::{Path, PathBuf},
};

/// The rooms that are free of sentences.
const ROOMS: [&str; 7] = ["report", "session", "live", "screen", "speak", "simulate", "verdict"];
/// What looks like a sentence and is none, with the file's ending that it stands in.
///
/// The table of the trial is read by those who change the engine.
const EXCEPTIONS: [(&str, &str); 3] = [
    (
        "verdict/trial/show.rs",
        "Sound parts that are accused, in percent; beside it the share where the engine by itself gives a circuit so much:n",
    ),
    ("verdict/trial/show.rs", "Exact set: cells lost to a rival with its one threshold, beyond chance"),
    ("verdict/trial/show.rs", "Alarms: cells lost to a rival with its one threshold, beyond chance"),
];

#[test]
fn no_sentence_stands_in_the_code_of_these_rooms() {
    let mut found = Vec::new();
    for room in ROOMS {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src").join(room);
        for file in files(&folder) {
            let text = fs::read_to_string(&file).unwrap();
            let name = file.display().to_string();
            let listed = |literal: &str| {
                EXCEPTIONS.iter().any(|(ending, exception)| name.ends_with(ending) && *exception == literal)
            };
            let sentences =
                literals(&text).into_iter().filter(|(_, literal)| is_sentence(literal) && !listed(literal));
            found.extend(sentences.map(|(line, literal)| format!("{name}:{line}: {literal:?}")));
        }
    }
    assert!(found.is_empty(), "{}", found.join("\n"));
}

/// The search finds what it is there to find.
#[test]
fn a_sentence_is_found_and_a_comment_is_not() {
    let text = "/// \"Not this.\" here\nlet a = \"Say it again.\"; // \"Nor this one.\"\nlet b = '\"'; let c = \"pin 4\";\n";
    let all: Vec<_> = literals(text).into_iter().filter(|(_, literal)| is_sentence(literal)).collect();
    assert_eq!(all, [(2, "Say it again.".to_owned())]);
}

fn is_sentence(literal: &str) -> bool {
    // A word in it tells it from the path of a drawing.
    let word = |piece: &str| piece.chars().take_while(|letter| letter.is_lowercase()).count() > 1;
    literal.starts_with(|letter: char| letter.is_uppercase()) && literal.split(' ').skip(1).any(word)
}

fn files(folder: &Path) -> Vec<PathBuf> {
    let mut list = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        if path.is_dir() {
            if name != "tests" && name != "snapshots" {
                list.extend(files(&path));
            }
        } else if name.ends_with(".rs") && !name.ends_with("tests.rs") {
            list.push(path);
        }
    }
    list
}

/// The string literals of a file, each with its line, up to its tests.
fn literals(text: &str) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    let mut line = 1;
    let mut letters = text.split("#[cfg(test)]\nmod tests {").next().unwrap_or(text).chars().peekable();
    while let Some(letter) = letters.next() {
        match letter {
            '\n' => line += 1,
            '/' if letters.peek() == Some(&'/') => {
                for letter in letters.by_ref() {
                    if letter == '\n' {
                        line += 1;
                        break;
                    }
                }
            }
            // A quotation mark as a letter.
            '\'' if letters.peek() == Some(&'"') => {
                letters.next();
            }
            '"' => {
                let (begun, mut literal) = (line, String::new());
                while let Some(letter) = letters.next() {
                    match letter {
                        '"' => break,
                        '\\' => literal.extend(letters.next()),
                        letter => literal.push(letter),
                    }
                    line += usize::from(letter == '\n');
                }
                found.push((begun, literal));
            }
            _ => {}
        }
    }
    found
}
