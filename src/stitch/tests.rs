//! The table against published facts and against itself.

use super::*;

/// Craft Yarn Council, Standards & Guidelines for Crochet and Knitting (2018), term differences: US full name and
/// abbreviation, UK full name and abbreviations, ours last.
const TERM_DIFFERENCES: &[(&str, &str, &str, &[&str])] = &[
    ("chain", "ch", "chain", &["ch"]),
    ("slip stitch", "sl st", "slip stitch", &["ss", "sl st"]),
    ("single crochet", "sc", "double crochet", &["dc"]),
    ("half double crochet", "hdc", "half treble crochet", &["htr"]),
    ("double crochet", "dc", "treble crochet", &["tr"]),
    ("treble crochet", "tr", "double treble crochet", &["dtr"]),
    ("double treble crochet", "dtr", "triple treble crochet", &["ttr", "trtr"]),
    ("triple treble crochet", "trtr", "quadruple treble crochet", &["quad tr", "qtr"]),
    ("double crochet 2 together", "dc2tog", "treble crochet 2 together", &["tr2tog"]),
    ("front post double crochet", "FPdc", "front post treble crochet", &["FPtr"]),
    ("puff stitch", "puff", "puff stitch", &["PS"]),
    ("puff stitch", "ps", "puff stitch", &["PS"]),
];

/// Craft Yarn Council, Standards & Guidelines (2018), Abbreviations - Crochet Master List, as carried by other lists.
/// `p`, `FSC` and `rsc` stand in other printed lists only. The list's `t-ch`, the turning chain, is no stitch of the
/// table: a pattern says it with `lead`.
const ABBREVIATIONS: &[(&str, &str)] = &[
    ("bo", "bobble"),
    ("BPdc", "back post double crochet"),
    ("BPhdc", "back post half double crochet"),
    ("BPsc", "back post single crochet"),
    ("BPtr", "back post treble crochet"),
    ("ch", "chain"),
    ("CL", "cluster"),
    ("dc", "double crochet"),
    ("dc2tog", "double crochet 2 together"),
    ("dec", "decrease"),
    ("dtr", "double treble crochet"),
    ("esc", "extended single crochet"),
    ("FPdc", "front post double crochet"),
    ("FPhdc", "front post half double crochet"),
    ("FPsc", "front post single crochet"),
    ("FPtr", "front post treble crochet"),
    ("FSC", "foundation single crochet"),
    ("hdc", "half double crochet"),
    ("hdc2tog", "half double crochet 2 together"),
    ("inc", "increase"),
    ("p", "picot"),
    ("pc", "popcorn"),
    ("ps", "puff stitch"),
    ("puff", "puff stitch"),
    ("rsc", "reverse single crochet"),
    ("sc", "single crochet"),
    ("sc2tog", "single crochet 2 together"),
    ("sl st", "slip stitch"),
    ("tr", "treble crochet"),
    ("tr2tog", "treble crochet 2 together"),
    ("trtr", "triple treble crochet"),
];

/// Turning chains: dummies.com, How to Crochet a Turning Chain, and the CGOA lesson; trtr: crochetforall.com.
const TURNING_CHAINS: &[(&str, u32)] =
    &[("sl st", 0), ("sc", 1), ("hdc", 2), ("dc", 3), ("tr", 4), ("dtr", 5), ("trtr", 6)];

fn us(name: &str) -> StitchId {
    Stitches::standard().find(name, Terms::Us).unwrap_or_else(|| panic!("no US {name}"))
}

fn stitch(name: &str) -> Stitch {
    Stitches::standard().get(us(name)).cloned().unwrap()
}

#[test]
fn the_whole_table_is_read() {
    let trade = Trade::read(table::TABLE).expect("every row");
    let rows = table::TABLE.lines().filter(|l| l.contains(" | ")).count() - 1;
    // Ranges: four of 2 to 6 together and one of picots make 4 more each, the clusters 3, puffs 2, bobbles and
    // popcorns 3.
    assert_eq!(trade.list.len(), rows + 5 * 4 + 2 * 3 + 2 + 2 * 3);
    assert_eq!(Stitches::standard().iter().count(), trade.list.len());
}

#[test]
fn a_faulty_table_names_its_row() {
    let head = "US | …\n";
    let plain = "sc | single | dc | double | 1 | sc | 1 | yes | no | - | plain | count | - | cross | - | - | -\n";
    assert!(Trade::read(&format!("{head}{plain}")).is_ok());
    for (from, to) in [
        ("| 1 | sc |", "| 1 | zz |"),
        ("yes", "maybe"),
        ("| - | -\n", "| -\n"),
        ("no | -", "no | zz"),
        ("plain", "zz"),
        ("count | -", "count | zz"),
        ("count", "3"),
        ("cross", "kross"),
    ] {
        let broken = plain.replace(from, to);
        assert_eq!(Trade::read(&format!("{head}{broken}")), Err(broken.trim().to_owned()));
    }
    let twice = plain.replace("sc | single", "xx | single").replace("| sc |", "| xx |");
    assert_eq!(Trade::read(&format!("{head}{plain}{twice}")), Err(twice.trim().to_owned()));
}

#[test]
fn published_term_differences_hold() {
    let all = Stitches::standard();
    for (full, short, uk_full, uk_shorts) in TERM_DIFFERENCES {
        let id = us(short);
        assert_eq!(all.find(full, Terms::Us), Some(id), "{full}");
        assert_eq!(all.find(uk_full, Terms::Uk), Some(id), "{uk_full}");
        assert_eq!(all.get(id).unwrap().us.full, *full);
        assert_eq!(all.get(id).unwrap().uk.full, *uk_full);
        for uk in *uk_shorts {
            assert_eq!(all.find(uk, Terms::Uk), Some(id), "{uk}");
        }
    }
}

#[test]
fn published_abbreviations_are_found_under_their_names() {
    let all = Stitches::standard();
    for (short, full) in ABBREVIATIONS {
        assert_eq!(all.find(full, Terms::Us), Some(us(short)), "{short}");
        assert_eq!(all.get(us(short)).unwrap().us.full, *full);
    }
}

#[test]
fn heights_are_the_published_turning_chains() {
    for (name, chains) in TURNING_CHAINS {
        assert_eq!(stitch(name).height, *chains, "{name}");
    }
}

/// Steps up the name of every plain stitch in a name by the published differences.
fn stepped_up(name: &str, steps: &[(&str, &str)]) -> String {
    let hit = steps.iter().filter_map(|(us, uk)| Some((name.find(us)?, *us, *uk)));
    match hit.min_by_key(|(at, us, _)| (*at, usize::MAX - us.len())) {
        Some((_, us, uk)) => name.replacen(us, uk, 1),
        None => name.to_owned(),
    }
}

#[test]
fn every_uk_name_is_its_us_name_one_step_up() {
    let plain = &TERM_DIFFERENCES[2..8];
    let shorts: Vec<(&str, &str)> = plain.iter().map(|(_, us, _, uk)| (*us, *uk.last().unwrap())).collect();
    let fulls: Vec<(&str, &str)> = plain.iter().map(|(us, _, uk, _)| (*us, *uk)).collect();
    // Those of Tunisian crochet have one name everywhere (common practice, no source).
    for (_, s) in Stitches::standard().iter().filter(|(_, s)| !s.us.full.starts_with("Tunisian")) {
        assert_eq!(s.uk.short, stepped_up(&s.us.short, &shorts), "{}", s.us.full);
        assert_eq!(s.uk.full, stepped_up(&s.us.full, &fulls), "{}", s.us.full);
    }
}

#[test]
fn every_name_goes_there_and_back() {
    let all = Stitches::standard();
    for (id, s) in all.iter() {
        for terms in [Terms::Us, Terms::Uk] {
            assert_eq!(all.find(&s.names(terms).short, terms), Some(id));
            assert_eq!(all.find(&s.names(terms).full, terms), Some(id));
        }
    }
}

#[test]
fn together_takes_its_number_and_makes_one_that_counts_as_its_stitch() {
    let all = Stitches::standard();
    for base in ["sc", "hdc", "dc", "tr"] {
        for n in 2..=6 {
            let id = us(&format!("{base}{n}tog"));
            let s = all.get(id).unwrap();
            assert_eq!((s.takes, s.makes.as_slice()), (n, [Made::Stitch(id)].as_slice()));
            assert!(all.answers(id, us(base)));
            assert_eq!(s.height, stitch(base).height);
        }
    }
    assert_eq!(all.find("sc7tog", Terms::Us), None);
}

#[test]
fn takes_and_makes_add_up() {
    let sums = [
        ("ch", 0, 0),
        ("sl st", 1, 1),
        ("inc", 1, 2),
        ("trinc", 1, 2),
        ("dec", 2, 1),
        ("invdec", 2, 1),
        ("cl", 1, 1),
        ("dc5cl", 1, 1),
        ("picot", 0, 0),
        ("picot6", 0, 0),
        ("shell", 1, 5),
        ("vst", 1, 2),
        ("xdc", 2, 2),
        ("fpdc2tog", 2, 1),
        ("fsc", 0, 1),
    ];
    for (name, takes, tops) in sums {
        let s = stitch(name);
        let made = s.makes.iter().filter(|m| matches!(m, Made::Stitch(_))).count();
        assert_eq!((s.takes, made), (takes, tops), "{name}");
    }
    assert_eq!(stitch("vst").makes, [Made::Stitch(us("dc")), Made::Chains(1), Made::Stitch(us("dc"))]);
}

#[test]
fn stitches_answer_to_simpler_ones_only() {
    let all = Stitches::standard();
    for (form, simple) in [("sc2tog", "sc"), ("dec", "sc2tog"), ("dec", "sc"), ("dc4cl", "cl"), ("fdc", "dc")] {
        assert!(all.answers(us(form), us(simple)), "{form} as {simple}");
        assert!(!all.answers(us(simple), us(form)), "{simple} as {form}");
    }
    for (one, other) in [("fpdc", "dc"), ("bpdc", "fpdc"), ("hdc", "dc"), ("dc2tog", "sc"), ("sl st", "ch")] {
        assert!(!all.answers(us(one), us(other)), "{one} as {other}");
    }
    assert!(all.answers(us("fpdc"), us("fpdc")));
}

#[test]
fn post_stitches_need_a_post_and_have_one() {
    for (_, s) in Stitches::standard().iter() {
        assert_eq!(s.around_post, s.us.full.contains(" post "), "{}", s.us.full);
        assert!(!s.around_post || s.has_post);
    }
    for name in ["ch", "sl st", "picot"] {
        assert!(!stitch(name).has_post, "{name}");
    }
}

#[test]
fn words_are_found_however_they_are_written() {
    let all = Stitches::standard();
    for (written, meant) in
        [("SC", "sc"), ("sl  st", "sl st"), ("SlSt", "sl st"), ("Half Double Crochet", "hdc"), ("V-St", "vst")]
    {
        assert_eq!(all.find(written, Terms::Us), Some(us(meant)));
    }
    assert_eq!(all.find("", Terms::Us), None);
    assert_eq!(all.find("ss", Terms::Us), None);
    assert_eq!(all.find("sc", Terms::Uk), None);
}

#[test]
fn words_of_the_other_terms_are_known() {
    let all = Stitches::standard();
    assert_eq!(all.in_other_terms("htr", Terms::Us), Some(us("hdc")));
    assert_eq!(all.in_other_terms("dc", Terms::Us), Some(us("sc")));
    assert_eq!(all.in_other_terms("sc", Terms::Uk), Some(us("sc")));
    assert_eq!(all.in_other_terms("tr", Terms::Uk), Some(us("tr")));
    for name in ["ch", "inc", "picot", "nothing"] {
        assert_eq!(all.in_other_terms(name, Terms::Us), None, "{name}");
    }
}

#[test]
fn near_misses_are_guessed() {
    let all = Stitches::standard();
    for (written, meant) in
        [("hcd", "hdc"), ("dcc", "dc"), ("sc2to", "sc2tog"), ("fpcd", "fpdc"), ("poppcorn", "popcorn")]
    {
        assert_eq!(all.nearest(written, Terms::Us).as_deref(), Some(meant), "{written}");
    }
    assert_eq!(all.nearest("htrr", Terms::Uk).as_deref(), Some("htr"));
    for far in ["", "x", "wombat", "häkeln"] {
        assert_eq!(all.nearest(far, Terms::Us), None, "{far}");
    }
}

#[test]
fn a_stitch_of_ones_own_hides_the_trades() {
    let mut all = Stitches::standard();
    let before = us("vst");
    let own = Stitch { takes: 2, own: true, how: Some("Keep {sc} as it is.".to_owned()), ..stitch("vst") };
    let id = all.add(own).unwrap();
    assert_ne!(id, before);
    assert_eq!(all.find("VST", Terms::Us), Some(id));
    assert_eq!(all.find("v-stitch", Terms::Uk), Some(id));
    assert_eq!(all.get(id).unwrap().takes, 2);
    assert_eq!(all.get(before).unwrap().takes, 1);
    assert_eq!(all.how(id, Terms::Uk).as_deref(), Some("Keep {sc} as it is."));
    assert_eq!(all.iter().last().map(|(last, _)| last), Some(id));
    assert_eq!(Stitches::standard().find("vst", Terms::Us), Some(before));
}

#[test]
fn how_it_is_made_speaks_the_readers_terms() {
    let all = Stitches::standard();
    assert_eq!(all.how(us("shell"), Terms::Us).as_deref(), Some("Work 5 dc in the same place."));
    assert_eq!(all.how(us("shell"), Terms::Uk).as_deref(), Some("Work 5 tr in the same place."));
    assert!(all.how(us("dc4cl"), Terms::Us).unwrap().starts_with("Work 4 dc in one place"));
    assert_eq!(all.how(us("sc"), Terms::Us), None);
    for (id, s) in all.iter() {
        let how = all.how(id, Terms::Uk).unwrap_or_default();
        assert!(!how.contains(['{', '}']), "{how}");
        assert!(how.is_empty() || how.ends_with('.'), "{}", s.us.full);
    }
}

#[test]
fn what_is_seen_from_behind_is_seen_from_the_front_again() {
    let all = Stitches::standard();
    let mut posts = 0;
    for (id, stitch) in all.iter() {
        let Some(behind) = stitch.from_behind else {
            assert!(!stitch.around_post, "{stitch:?} goes in from one side");
            continue;
        };
        let behind = all.get(behind).unwrap();
        assert_eq!(behind.from_behind, Some(id));
        assert_eq!(
            (behind.height, behind.takes, behind.around_post),
            (stitch.height, stitch.takes, stitch.around_post)
        );
        let exchanged = |name: &str| name.replace("front", "?").replace("back", "front").replace('?', "back");
        assert_eq!(exchanged(&stitch.uk.full), behind.uk.full);
        posts += 1;
    }
    assert_eq!(posts, 18);
    assert_eq!(stitch("fpdc").from_behind, Some(us("bpdc")));
}

#[test]
fn there_is_one_chain_one_slip_stitch_and_one_plain_stitch_of_each_height() {
    let all = Stitches::standard();
    assert_eq!((all.chain(), all.slip()), (Some(us("ch")), Some(us("sl st"))));
    let plain: Vec<u32> = all.iter().filter(|(_, s)| s.sort == Sort::Plain).map(|(_, s)| s.height).collect();
    assert_eq!(plain, [1, 2, 3, 4, 5, 6]);
    for (name, height) in TURNING_CHAINS.iter().filter(|(name, _)| *name != "sl st") {
        assert_eq!(all.plain(*height), Some(us(name)));
    }
    assert_eq!(all.plain(7), None);
}

#[test]
fn several_of_a_stitch_have_a_name_where_the_table_has_one() {
    let all = Stitches::standard();
    assert_eq!(all.together(us("sc"), 2), Some(us("sc2tog")), "and not an invisible decrease");
    assert_eq!(all.together(us("dc"), 6), Some(us("dc6tog")));
    assert_eq!(all.together(us("fpdc"), 2), Some(us("fpdc2tog")));
    assert_eq!(all.together(us("dtr"), 2), None);
    assert_eq!((all.together(us("sc"), 1), all.together(us("sc2tog"), 2)), (None, None));
    assert_eq!((all.in_one_place(us("sc"), 2), all.several(us("inc"))), (Some(us("inc")), Some((us("sc"), 2))));
    assert_eq!(all.several(us("shell")), Some((us("dc"), 5)));
    assert_eq!((all.several(us("vst")), all.several(us("xdc"))), (None, None));
}

#[test]
fn a_number_right_behind_some_names_is_a_count() {
    let all = Stitches::standard();
    for word in ["sc", "DC", "htr", "inc", "fphdc", "fphtr"] {
        assert!(all.is_counted(word), "{word}");
    }
    for word in ["picot", "puff", "cl", "single crochet", "ch", "fog"] {
        assert!(!all.is_counted(word), "{word}");
    }
}
