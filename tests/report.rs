//! The reports of one session made by hand: as snapshots where they are read as text, by structure where they are pages.

mod report_sample;

use bothhands::{
    journal::Ending,
    profile::{DropLimit, KnownCode},
    quantity::{Reading, Volts},
    report::{self, Points, Record, TEXT_WIDTH, csv, json},
    verdict::{Class, Details, Evidence, Further, Leads, Measurement, engine, judge},
    words::Words,
};
use report_sample::{meter, profile, record};
use std::{collections::BTreeSet, fs};

fn html(record: &Record) -> String {
    report::html(record, &Words::english())
}

fn text(record: &Record) -> String {
    report::text(record, &Words::english())
}

fn sheet(profile: &bothhands::profile::Profile, meter: &bothhands::profile::Meter) -> String {
    report::sheet(profile, meter, &Words::english())
}

fn save(folder: &std::path::Path, record: &Record) -> Result<report::Saved, report::ReportError> {
    report::save(folder, record, &Words::english())
}

#[test]
fn summary_for_the_terminal() {
    insta::assert_snapshot!(text(&record()));
}

/// The texts of the conclusion come from the judgement, those of the part from its profile: all else is the reader's.
#[test]
fn the_same_record_in_another_language() {
    let german = Words::builtin("de").unwrap();
    let (record, english) = (bare(), Words::english());
    let words = [
        "Measuring record",
        "Conclusion",
        "Circuits",
        "Readings",
        "Verdict",
        "Limits",
        "Listen",
        "not taken",
        "common pin",
    ];
    let theirs = [
        "Messprotokoll",
        "Ergebnis",
        "Stromkreise",
        "Ablesungen",
        "Urteil",
        "Grenzen",
        "Anhören",
        "fehlt",
        "gemeinsam",
    ];
    for (page, own, other) in
        [(report::html(&record, &english), words, theirs), (report::html(&record, &german), theirs, words)]
    {
        assert_well_formed(&page);
        for (own, other) in own.iter().zip(other) {
            assert!(page.contains(own), "{own}");
            assert!(!page.contains(other), "{other}");
        }
    }
    assert!(report::html(&record, &german).contains("<html lang=\"de\">"));
    let record = self::record();
    let summary = report::text(&record, &german).replace('\u{a0}', " ");
    for part in
        ["5,200 ± 0,081 Ω", "4,82 bis 5,62 Ω", "25.11.2026 17:12 bis 17:18", "Überlauf", "MESSPROTOKOLL"]
    {
        assert!(summary.contains(part), "{part}\n{summary}");
    }
    assert!(summary.lines().all(|line| line.chars().count() <= TEXT_WIDTH));
}

#[test]
fn the_filled_sheet_has_what_was_read() {
    let record = record();
    let page = report::filled_sheet(&record, &Words::english());
    assert_well_formed(&page);
    let page = page.replace('\u{a0}', " ");
    // Coil C: over range, then over range with the terminal cleaned.
    assert!(page.contains("<td class=\"write\">over range</td><td class=\"write\">over range c</td>"));
    assert!(page.contains("<td class=\"write\">32.40 MΩ</td>"));
    assert!(!page.contains("9.35 Ω"), "a withdrawn reading is not on the sheet");
}

#[test]
fn a_row_of_two_hundred_pins_is_folded() {
    let mut record = record();
    let pin = record.profile.connector.pins[0].clone();
    record.profile.connector.pins = (1..=200u8)
        .map(|number| bothhands::profile::Pin {
            name: number.to_string().as_str().into(),
            row: 1,
            column: number,
            ..pin.clone()
        })
        .collect();
    let page = html(&record);
    let drawing = page.split("<figure class=\"map\">").nth(1).unwrap();
    assert!(drawing.contains("max-width:1488px"), "{}", &drawing[..200]);
    assert_eq!(drawing.matches("<g class=\"pin ").count(), 200);
}

#[test]
fn table_of_readings() {
    insta::assert_snapshot!(csv(&record()).replace("\r\n", "\n"));
}

#[test]
fn machine_readable_form() {
    let text = json(&record());
    let value: serde_json::Value = serde_json::from_str(&text).unwrap();
    assert_eq!((&value["kind"], &value["format"]), (&"bothhands-record".into(), &1.into()));
    assert_eq!(value["record"]["readings"][8]["reading"]["value"]["number"], "5.40");
    insta::assert_snapshot!(text);
}

#[test]
fn no_line_of_the_summary_is_wider_than_the_terminal() {
    for record in [record(), hostile(&record()), bare()] {
        for line in text(&record).lines() {
            assert!(line.chars().count() <= TEXT_WIDTH, "{line}");
            assert!(!line.contains(|c: char| c.is_control()), "{line:?}");
        }
    }
}

#[test]
fn a_session_that_took_nothing_is_still_a_record() {
    let record = bare();
    assert!(text(&record).contains("Broken off"));
    assert!(csv(&record).lines().count() == 1);
    assert_well_formed(&html(&record));
}

/// Nothing was measured, nothing said, nothing finished.
fn bare() -> Record {
    let mut record = record();
    record.job = None;
    record.ending = Ending::BrokenOff;
    record.readings.clear();
    record.confirmations.clear();
    record.leads.clear();
    record.temperatures.clear();
    record.codes.clear();
    record.notes.clear();
    record.further = Further::default();
    record.judgement.patterns.clear();
    record.judgement.observed.clear();
    record.judgement.next_checks.clear();
    record.judgement.conclusion.explanations.truncate(1);
    record.judgement.conclusion.explanations[0].reasons_for.clear();
    for finding in &mut record.judgement.findings {
        finding.class = Class::NotTaken;
        (finding.resistance, finding.uncertainty) = (None, None);
        finding.measurements.clear();
        finding.derivation.clear();
        finding.details = Details::default();
    }
    record
}

#[test]
fn what_is_invented_or_unfinished_is_said_everywhere() {
    let mut record = record();
    record.ending = Ending::Stopped;
    for stamp in record.stamps() {
        let shown = Words::english().text(&stamp);
        assert!(text(&record).contains(&shown), "{shown}");
        assert!(html(&record).contains(&shown), "{shown}");
        let named = serde_json::to_string(&stamp).unwrap();
        assert!(json(&record).contains(&named), "{named}");
    }
    assert_eq!(record.stamps().len(), 4);
    assert!(sheet(&profile(), &meter()).contains("Invented part"));
    record.simulated = false;
    record.profile.invented = false;
    record.meter.invented = false;
    record.ending = Ending::Concluded;
    assert!(record.stamps().is_empty());
    assert!(!html(&record).contains("class=\"stamps\""));
}

/// Opening tags in order; panics where a tag is not closed, crosses another or has an attribute without quotes.
fn tags(page: &str) -> Vec<(String, String)> {
    const VOID: [&str; 3] = ["meta", "br", "!doctype"];
    let (mut open, mut all): (Vec<String>, _) = (Vec::new(), Vec::new());
    let style = page.find("<style>").unwrap()..page.find("</style>").unwrap();
    let without_style = format!("{}{}", &page[..style.start + 7], &page[style.end..]);
    for piece in without_style.split('<').skip(1) {
        let (tag, _) = piece.split_once('>').expect("a tag is closed");
        if let Some(name) = tag.strip_prefix('/') {
            assert_eq!(open.pop().as_deref(), Some(name));
            continue;
        }
        let (name, attributes) =
            tag.trim_end_matches('/').split_once([' ', '\n']).unwrap_or((tag.trim_end_matches('/'), ""));
        assert_eq!(attributes.matches('"').count() % 2, 0, "{tag}");
        all.push((name.to_lowercase(), attributes.to_owned()));
        if !VOID.contains(&name.to_lowercase().as_str()) && !tag.ends_with('/') {
            open.push(name.to_owned());
        }
    }
    assert!(open.is_empty(), "{open:?}");
    all
}

/// Values of an attribute, in order.
fn values(tags: &[(String, String)], attribute: &str) -> Vec<String> {
    let marker = format!("{attribute}=\"");
    let value =
        |text: &str| text.split_once(&marker).map(|(_, rest)| rest.split('"').next().unwrap().to_owned());
    tags.iter().filter_map(|(_, attributes)| value(&format!(" {attributes}"))).collect()
}

fn assert_well_formed(page: &str) -> Vec<(String, String)> {
    let tags = tags(page);
    let ids = values(&tags, " id");
    let unique: BTreeSet<_> = ids.iter().cloned().collect();
    assert_eq!(ids.len(), unique.len(), "names of places are unique");
    for link in values(&tags, " href") {
        let place = link.strip_prefix('#').expect("links stay in the page");
        assert!(unique.contains(place), "{link} leads nowhere");
    }
    for name in ["script", "img", "iframe", "link", "form", "object", "base"] {
        assert!(tags.iter().all(|(tag, _)| tag != name), "{name}");
    }
    assert!(
        !page.contains("http:")
            && !page.contains("https:")
            && !page.contains("@import")
            && !page.contains("url(")
    );
    tags
}

#[test]
fn the_page_is_whole_and_fetches_nothing_but_its_clips() {
    let record = record();
    let tags = assert_well_formed(&html(&record));
    let clips = values(&tags, " src");
    assert!(clips.iter().all(|clip| clip.starts_with("clips/")));
    assert!(clips.contains(&"clips/000009.wav".to_owned()));
    for taken in &record.readings {
        let place = format!("r{}", taken.id);
        assert!(values(&tags, " id").contains(&place), "{place}");
    }
}

#[test]
fn the_page_shows_every_reading_finding_and_reason() {
    let record = record();
    let page = html(&record).replace('\u{a0}', " ");
    for taken in &record.readings {
        assert!(page.contains(&taken.reading.to_string()), "{}", taken.reading);
    }
    for finding in &record.judgement.findings {
        let class = Words::english().text(&finding.class);
        assert!(page.contains(&class), "{class}");
    }
    for explanation in &record.judgement.conclusion.explanations {
        for reason in explanation.reasons_for.iter().chain(&explanation.reasons_against) {
            let text = Words::english().text(&reason.text);
            assert!(page.contains(&text), "{text}");
        }
    }
    let heard_apart = "<q>nine point three five</q> <small>(phrases)</small> or <q>five point three five</q>";
    assert!(page.contains(heard_apart));
    assert!(page.contains("<s>9.35 Ω</s>") && page.contains("replaced by reading 6"));
}

#[test]
fn every_pin_has_its_state_as_shape_and_word() {
    let page = html(&record());
    let pins: Vec<_> =
        page.split("<g class=\"pin ").skip(1).map(|pin| pin.split("</g>").next().unwrap()).collect();
    assert_eq!(pins.len(), 16);
    let pin = |number: &str| {
        *pins.iter().find(|pin| pin.contains(&format!("\">{number}</text>"))).expect("every pin is drawn")
    };
    let shape = |pin: &str| pin.split('<').nth(1).unwrap().split(' ').next().unwrap().to_owned();
    assert!(pin("3").starts_with("suspect") && pin("3").contains(">open<") && shape(pin("3")) == "path");
    assert!(pin("6").starts_with("doubt") && pin("6").contains(">in, near limit<"));
    assert!(pin("1").starts_with("sound") && pin("1").contains(">in<") && shape(pin("1")) == "circle");
    assert!(pin("13").starts_with("none") && pin("13").contains(">not taken<"));
    assert!(
        pin("16").starts_with("common") && pin("16").contains(">common pin<") && shape(pin("16")) == "rect"
    );
    assert!(pin("12").starts_with("common") && pin("12").contains(">return<"));
    assert!(pin("15").starts_with("unused"));
}

/// The record judged by the real judgement instead of the one made by hand.
#[test]
fn a_real_judgement_fits_into_every_form() {
    let mut record = record();
    let kept = record.readings.iter().filter(|taken| taken.withdrawn.is_none());
    let measurements = kept.map(|taken| Measurement {
        id: taken.id,
        circuit: taken.circuit.clone(),
        station: taken.station,
        reading: taken.reading,
        contact: taken.contact,
    });
    let evidence = Evidence {
        part_temperature: record.temperatures[0].interval,
        leads: Leads::Shown(match record.leads[0].leads {
            Leads::Shown(shown) => shown,
            other => panic!("{other:?}"),
        }),
        measurements: measurements.collect(),
        codes: record.codes.clone(),
        further: record.further.clone(),
        ..Evidence::none()
    };
    record.judgement = judge(&record.profile, Some(&record.meter), &evidence).unwrap();
    let page = html(&record);
    assert_well_formed(&page);
    assert!(text(&record).lines().all(|line| line.chars().count() <= TEXT_WIDTH));
    assert_eq!(csv(&record).lines().count(), record.readings.len() + 1);
    serde_json::from_str::<serde_json::Value>(&json(&record)).unwrap();
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("judged");
    save(&folder, &record).unwrap();
}

/// The record with markup, quotes, control characters and spreadsheet formulas in every text that a person or file gives.
fn hostile(record: &Record) -> Record {
    const EVIL: &str =
        "=1+<script>alert(1)</script>\"'><img src=x onerror=alert(2)>\u{1b}[2J\u{202e}\r\n,]]>&lt;";
    let mut record = record.clone();
    let evil = || EVIL.to_owned();
    record.job = Some(evil());
    record.session = evil();
    record.program = evil();
    record.ways = evil();
    record.profile.title = evil();
    record.profile.source = evil();
    record.profile.connector.title = evil();
    record.profile.connector.seen_from = evil();
    record.profile.connector.pins[14].label = Some(evil());
    record.profile.connector.pins[15].label = Some(evil());
    record.profile.families[0].title = evil();
    record.profile.circuits[0].name = evil();
    record.profile.circuits[3].never_ohmmeter = Some(evil());
    record.profile.cautions = vec![evil()];
    record.profile.further_checks = vec![evil()];
    record.profile.gates[0].instruction = evil();
    record.profile.gates[0].confirm = evil();
    record.meter.title = evil();
    record.meter.source = evil();
    record.meter.category = evil();
    for gate in &mut record.confirmations {
        (gate.gate, gate.instruction, gate.phrase) = (evil(), evil(), evil());
    }
    for taken in &mut record.readings {
        taken.remarks = vec![evil().into()];
        taken.intake.clip = Some(evil());
        taken.intake.typed = Some(evil());
        for opinion in &mut taken.intake.opinions {
            (opinion.by, opinion.words) = (evil(), evil());
        }
    }
    record.readings[3].circuit = EVIL.into();
    record.codes[0].text = evil();
    record.notes[0].text = evil().into();
    record.judgement.observed[0].text = evil().into();
    record.further.drops[0].joint = evil();
    record.further.relations[0].from = EVIL.into();
    let judgement = &mut record.judgement;
    judgement.conclusion.headline = evil().into();
    judgement.conclusion.not_excluded = vec![evil().into()];
    judgement.conclusion.cautions = vec![evil().into()];
    judgement.conclusion.explanations[0].reasons_for[0].text = evil().into();
    judgement.patterns[0].text = evil().into();
    judgement.next_checks[0].text = evil().into();
    judgement.next_checks[0].why = evil().into();
    for finding in &mut judgement.findings {
        for step in &mut finding.derivation {
            (step.what, step.how) = (evil().into(), evil().into());
        }
        finding.details.notes = vec![evil().into()];
        for part in &mut finding.details.budget {
            (part.source, part.how) = (evil().into(), evil().into());
        }
    }
    judgement.findings[4].circuit = EVIL.into();
    record
}

#[test]
fn text_of_people_and_files_never_becomes_markup() {
    let record = hostile(&record());
    for page in [html(&record), sheet(&record.profile, &record.meter)] {
        let found = assert_well_formed(&page);
        assert!(values(&found, " onerror").is_empty());
        assert!(page.contains("&lt;script&gt;"));
        assert!(!page.contains(['\u{1b}', '\u{202e}', '\r']));
    }
}

#[test]
fn a_spreadsheet_takes_no_text_for_a_formula_and_no_row_is_broken() {
    let record = hostile(&record());
    let table = csv(&record);
    assert_eq!(table.split("\r\n").count(), record.readings.len() + 2);
    assert!(!table.contains("\"=1+") && !table.contains(",=1+"));
    assert!(table.contains("'=1+"));
}

#[test]
fn what_is_not_known_is_empty_and_not_zero() {
    let table = csv(&record());
    let open = table.lines().find(|line| line.contains("over-range")).unwrap();
    let cells: Vec<_> = open.split(',').collect();
    let head: Vec<_> = table.lines().next().unwrap().split(',').collect();
    for column in ["shown", "value", "low", "resistance_ohm", "withdrawn_utc", "replaced_by"] {
        let at = head.iter().position(|name| *name == column).unwrap();
        assert_eq!(cells[at], "", "{column}");
    }
}

#[test]
fn the_sheet_has_a_row_for_every_circuit_and_no_room_where_no_ohmmeter_may_go() {
    let mut profile = profile();
    profile.circuits[8].never_ohmmeter = Some("it is pyrotechnic".to_owned());
    profile.drop_limits.joint =
        Some(DropLimit { volts: Volts::new(0.15).unwrap(), source: "sheet 7".to_owned() });
    profile.codes.push(KnownCode {
        number: "9907".to_owned(),
        circuit: "coil-c".into(),
        meaning: Some("no current".to_owned()),
    });
    let page = sheet(&profile, &meter());
    assert_well_formed(&page);
    for circuit in &profile.circuits {
        assert!(page.contains(&format!("<th scope=\"row\">{}", circuit.name)), "{}", circuit.name);
    }
    assert_eq!(page.matches("<td class=\"write\">").count(), 4 * (profile.circuits.len() - 1));
    assert!(page.contains("No ohmmeter here: it is pyrotechnic"));
    let page = page.replace('\u{a0}', " ");
    for part in [
        "over one joint: at most 0.15 V (sheet 7)",
        "Stored code 9907 (no current) names coil C",
        "4.80 to 5.60 Ω",
        "at 20 °C",
        "to 60 Ω",
        "steps 0.01 Ω",
        "within ± 5 % of what most of them read: coils A to H.",
    ] {
        assert!(page.contains(part), "{part}");
    }
    assert!(page.contains("supply off"));
}

#[test]
fn pins_that_no_ohmmeter_may_touch_are_barred() {
    let mut record = record();
    record.profile.circuits[8].never_ohmmeter = Some("it is pyrotechnic".to_owned());
    for page in [html(&record), sheet(&record.profile, &record.meter)] {
        assert_eq!(page.matches("<g class=\"pin forbidden\"").count(), 2);
        assert_eq!(page.matches(">no ohmmeter</text>").count(), 2);
    }
}

#[test]
fn every_shipped_profile_and_meter_makes_a_sheet() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("profiles");
    let files = |folder: &std::path::Path| -> Vec<_> {
        let paths = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
        paths.filter(|path| path.extension().is_some_and(|extension| extension == "toml")).collect()
    };
    let out = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("sheets");
    fs::create_dir_all(&out).unwrap();
    for path in files(&folder) {
        let profile = bothhands::profile::load(&path).unwrap();
        for meter in files(&folder.join("meters")) {
            let page = sheet(&profile, &bothhands::profile::load_meter(&meter).unwrap());
            assert_well_formed(&page);
            assert_eq!(page.matches("<tr").count(), profile.circuits.len() + 1);
            fs::write(out.join(format!("{}.html", profile.id)), page).unwrap();
        }
    }
}

#[test]
fn times_are_shown_in_the_zone_of_the_record_with_the_date_over_midnight() {
    let mut record = record();
    assert!(text(&record).contains("2026-11-25 17:12 to 17:18 (UTC+01:00)"));
    record.ended = "2026-11-26T07:00:00Z".parse().unwrap();
    let page = html(&record);
    assert!(page.contains("2026-11-25 17:12 to 2026-11-26 08:00 (UTC+01:00)"));
    assert!(page.contains("<time datetime=\"2026-11-25T16:14:20Z\">2026-11-25 17:14:20</time>"));
}

#[test]
fn reports_are_saved_beside_the_journal() {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("report");
    let record = record();
    let saved = save(&folder, &record).unwrap();
    assert_eq!(fs::read_to_string(&saved.html).unwrap(), html(&record));
    assert_eq!(fs::read_to_string(&saved.csv).unwrap(), csv(&record));
    assert!(saved.text.is_file() && saved.json.is_file());
    fs::write(folder.join("sheet.html"), sheet(&record.profile, &record.meter)).unwrap();

    let blocked = folder.join("sheet.html").join("below-a-file");
    let error = save(&blocked, &record).unwrap_err().to_string();
    assert!(error.contains("record.html") && error.contains("journal is safe"), "{error}");
    assert!(matches!(record.readings[2].reading, Reading::OverRange { .. }));
}

/// A program of before kept the sentence in front as a text: said by the engine of today as a value, it is the same sentence.
#[test]
fn a_sentence_kept_as_text_is_compared_with_the_value_of_today() {
    let points = |headline: serde_json::Value| {
        Points::of(engine(), None, &serde_json::json!({ "conclusion": { "headline": headline } }))
    };
    let now = points(serde_json::json!({ "nothing-so-far": { "taken": 3, "askable": 11 } }));
    assert!(points("No fault so far: 3 of 11 read.".into()).differences(&now).is_empty());
    let other = points("No fault so far: 4 of 11 read.".into()).differences(&now);
    let told: Vec<String> = other.iter().map(|one| Words::builtin("de").unwrap().text(one)).collect();
    assert_eq!(
        told,
        ["damals: No fault so far: 4 of 11 read. jetzt: Bisher kein Fehler: 3 von 11 gemessen."]
    );
}
