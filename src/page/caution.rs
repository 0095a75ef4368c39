//! The usual cautions, by what a pattern is for and what it names.
//!
//! They can't be switched off, they never say that a thing is safe, and they leave the last word to the rules where the maker
//! lives and to people who know them. They stand before the work is begun; the step that brings a danger names its caution once more.

use crate::pattern::model::{Audience, ItemKind, Pattern, TrimKind};
use crate::words::WORN_IN_PAIRS;

/// A caution of the page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Caution {
    /// What it is about.
    pub about: &'static str,
    /// What may happen and what is asked.
    pub text: String,
    /// Words at a step that bring the danger.
    brought_by: &'static [&'static str],
}

/// Ends the cautions.
pub const WHOM_TO_ASK: &str = "Follow the rules where you live; ask a qualified person.";

/// `First read the caution “Small parts”.`, at the step that brings the danger.
#[must_use]
pub fn before(about: &str) -> String {
    format!("First read the caution “{about}”.")
}

/// When a caution is given.
struct Rule {
    /// What it is about.
    about: &'static str,
    /// What may happen and what is asked.
    text: &'static str,
    /// Whom or what the pattern has to be for; `None` is a pattern that doesn't say.
    audiences: &'static [Option<Audience>],
    /// One of these words has to stand in the pattern; always given when there are none.
    words: &'static [&'static str],
}

const CORDS_AND_TIES: &str = "Cords and ties";

const BABY: Option<Audience> = Some(Audience::Baby);
const CHILD: Option<Audience> = Some(Audience::Child);
const TOY: Option<Audience> = Some(Audience::Toy);
const HOME: Option<Audience> = Some(Audience::Home);
const PET: Option<Audience> = Some(Audience::Pet);
const ADULT: Option<Audience> = Some(Audience::Adult);

const SMALL_PARTS: &[&str] =
    &["bead", "bell", "button", "charm", "eye", "magnet", "pin", "rattle", "sequin", "snap", "squeaker", "toggle"];
const PUSHED_IN: &[&str] = &["safety eye", "safety nose", "plastic eye", "plastic nose", "toy eye"];
const CORDS: &[&str] = &["bow", "cord", "drawstring", "i-cord", "leash", "ribbon", "strap", "string", "tie"];
const STRANDS: &[&str] = &["fringe", "pom", "pompom", "pompon", "tassel"];
const AT_THE_NECK: &[&str] = &["bib", "collar", "cowl", "hood", "neck", "poncho", "scarf", "shawl", "snood"];
const GARMENTS: &[&str] = &[
    "cardigan",
    "coat",
    "dress",
    "hoodie",
    "jacket",
    "jumper",
    "legging",
    "pant",
    "romper",
    "short",
    "skirt",
    "soaker",
    "sweater",
    "top",
    "trouser",
    "tunic",
    "vest",
    "waistcoat",
];
const HATS: &[&str] = &["balaclava", "beanie", "beret", "bonnet", "cap", "hat", "head", "headband", "helmet", "hood"];
const BEDDING: &[&str] = &["afghan", "blanket", "cocoon", "cushion", "lovey", "pillow", "quilt", "sack"];
const NIGHTWEAR: &[&str] =
    &["costume", "nightdress", "nightgown", "nightwear", "pajama", "pyjama", "robe", "sleepwear"];
const HEAT: &[&str] = &[
    "candle",
    "casserole",
    "flame",
    "hob",
    "hot",
    "kettle",
    "lantern",
    "oven",
    "potholder",
    "stove",
    "teapot",
    "trivet",
];

/// Words in the title, in what it is about, in the sizes and in whom it fits that tell for whom it is, whatever the `for`
/// line says or leaves unsaid.
const TOLD_BY: &[(Option<Audience>, &[&str])] = &[
    (BABY, &["baby", "babie", "bootie", "infant", "layette", "month", "newborn", "preemie", "toddler"]),
    (CHILD, &["boy", "child", "children", "girl", "kid", "tween"]),
    (TOY, &["amigurumi", "doll", "plaything", "teddy", "toy"]),
];

/// The rules, in the order in which the page gives them. The source stands above each.
const RULES: &[Rule] = &[
    // 16 CFR 1501.2 and 1501.4: small parts, articles for children under 3.
    Rule {
        about: "Small parts",
        text: "Buttons, beads, plastic eyes and other small things can come off, and a small child can choke on them. \
               US rules (16 CFR 1501) keep parts that fit the small-parts cylinder off articles for children under 3. \
               For a child that young leave them off, or embroider instead.",
        audiences: &[BABY, TOY],
        words: &[],
    },
    Rule {
        about: "Small parts",
        text: "Buttons, beads and other small things can come off, and a small child can choke on them. US rules \
               (16 CFR 1501) keep parts that fit the small-parts cylinder off articles for children under 3.",
        audiences: &[CHILD, None],
        words: SMALL_PARTS,
    },
    // The same; eyes that a toy maker pushes in are small parts on a thing for the house too.
    Rule {
        about: "Small parts",
        text: "Plastic eyes and noses can come off, whatever they are called, and a small child can choke on them. US rules \
               (16 CFR 1501) keep parts that fit the small-parts cylinder off articles for children under 3.",
        audiences: &[HOME, ADULT],
        words: PUSHED_IN,
    },
    // 16 CFR Part 1120 and ASTM F1816 (sizes 2T to 12 at hood and neck, 2T to 16 at waist and bottom); EN 14682 as told
    // by the Finnish Safety and Chemicals Agency.
    Rule {
        about: CORDS_AND_TIES,
        text: "Cords, ties and ribbons can catch on things and strangle.",
        audiences: &[BABY, CHILD, None],
        words: CORDS,
    },
    // EN 71-1 as summarised by a testing laboratory: cords on toys for children under 3.
    Rule {
        about: "Cords on a toy",
        text: "A cord, string or ribbon on a toy can form a noose. Toy rules such as EN 71-1 limit how long one may be \
               on a toy for children under 3.",
        audiences: &[TOY],
        words: CORDS,
    },
    // Common practice, no source.
    Rule {
        about: "Strands inside",
        text: "Loose strands and long floats inside can wind round a toe or a finger and stop the blood. Weave in every end, \
               keep the inside smooth, and look inside each time before it is put on.",
        audiences: &[BABY],
        words: WORN_IN_PAIRS,
    },
    // Common practice, no source.
    Rule {
        about: "Pompoms, tassels and fringes",
        text: "Strands can be pulled out and swallowed, or wind round a finger or toe. Fasten them well, and leave them \
               off for a small child.",
        audiences: &[BABY, CHILD, TOY, None],
        words: STRANDS,
    },
    // American Academy of Pediatrics 2022, Pediatrics 150(1) e2022057990: overheating and head covering.
    Rule {
        about: "Hats and sleep",
        text: "Babies should not sleep indoors with their heads covered: they can get too hot, and a hat can slip over \
               the face (American Academy of Pediatrics, 2022). Take it off before sleep and watch the baby while it \
               is worn.",
        audiences: &[BABY],
        words: HATS,
    },
    // The same statement: sleep surface free of soft things through 12 months.
    Rule {
        about: "Sleep",
        text: "Keep blankets, pillows and soft toys out of the place where a baby sleeps for the first 12 months \
               (American Academy of Pediatrics, 2022).",
        audiences: &[BABY],
        words: BEDDING,
    },
    Rule {
        about: "Sleep",
        text: "Keep soft toys out of the place where a baby sleeps for the first 12 months (American Academy of \
               Pediatrics, 2022).",
        audiences: &[TOY],
        words: &[],
    },
    // EN 71-1:2006 scope and seam clauses; UK and EU guidance on handmade soft toys, 2023.
    Rule {
        about: "Toys",
        text: "A soft toy is taken as one for the youngest children whatever its label says (EN 71-1). Close every seam \
               so that the filling stays in, look it over often, and take it away when a seam or a part gives. In the \
               UK and the EU toy rules hold for toys that are given away too.",
        audiences: &[TOY],
        words: &[],
    },
    // 16 CFR Parts 1615 and 1616.
    Rule {
        about: "Flame",
        text: "Yarn burns. For children’s nightclothes there are flammability rules (in the US 16 CFR 1615 and 1616). \
               Keep loose clothing and costumes away from flames.",
        audiences: &[BABY, CHILD],
        words: NIGHTWEAR,
    },
    // CPSIA section 103 (tracking label, 12 years and younger), the Children's Product Certificate, and the list of tests
    // that small makers still have to have done (small parts).
    Rule {
        about: "Selling or giving away",
        text: "Things for children of 12 years and younger may need testing, a certificate and a label before they are \
               sold or handed on, even from one maker (in the US under the CPSIA).",
        audiences: &[BABY, CHILD, TOY],
        words: &[],
    },
    // Common practice, no source.
    Rule {
        about: "Heat",
        text: "Yarn can scorch, melt or burn, and heat goes through open stitches. Keep it away from flames, and never \
               use plastic yarn on hot things.",
        audiences: &[HOME, ADULT, None],
        words: HEAT,
    },
    // Common practice, no source.
    Rule {
        about: "Pets",
        text: "An animal can chew off and swallow threads and small parts, and can catch in loops. Look it over often \
               and take it away when it is worn.",
        audiences: &[PET],
        words: &[],
    },
];

/// What published rules say of cords, by where the thing is worn. Sources as above.
const AT_HOOD_AND_NECK: &str = " US rules (16 CFR 1120) allow no drawstring at the hood or neck of children’s outerwear in sizes \
     2T to 12; EN 14682 allows none in the hood or neck of clothing for children up to 7 years, and none with free ends there from \
     7 to 14 years. Take the same care with hats and scarves, which EN 14682 does not cover.";
const AT_THE_WAIST: &str = " At the waist or the lower edge, US rules (16 CFR 1120, sizes 2T to 16) let at most 3 in hang out of the \
     channel, without knots or toggles at its ends.";

/// The cautions for a pattern, in order.
#[must_use]
pub fn cautions(pattern: &Pattern) -> Vec<Caution> {
    let audiences = audiences(pattern);
    // For the smallest a word is enough, even in `no buttons`: somebody may add what the designer left off.
    let small = audiences.iter().any(|audience| [BABY, CHILD, TOY].contains(audience));
    let mut words = words(pattern);
    words.retain(|word| small || !word.is_denied);
    let has = |wanted: &[&str]| wanted.is_empty() || wanted.iter().any(|phrase| stands_in(&words, phrase));
    let is_for = |rule: &&Rule| rule.audiences.iter().any(|audience| audiences.contains(audience));
    let mut given: Vec<Caution> = Vec::new();
    for rule in RULES.iter().filter(is_for).filter(|rule| has(rule.words)) {
        // One for the smallest stands before the same for others, and is enough.
        if given.iter().all(|caution| caution.about != rule.about) {
            let text =
                format!("{}{}", rule.text, if rule.about == CORDS_AND_TIES { where_worn(&has) } else { String::new() });
            let brought_by = if rule.about == "Small parts" { SMALL_PARTS } else { rule.words };
            given.push(Caution { about: rule.about, text, brought_by });
        }
    }
    given
}

/// The rules about cords that go with what is made: all of them where that isn't known.
fn where_worn(has: &impl Fn(&[&str]) -> bool) -> String {
    let (garment, head) = (has(GARMENTS), has(HATS) || has(AT_THE_NECK));
    let unknown = !garment && !head && !has(WORN_IN_PAIRS);
    let parts = [(garment || head || unknown, AT_HOOD_AND_NECK), (garment || unknown, AT_THE_WAIST)];
    parts.into_iter().filter(|(told, _)| *told).map(|(_, text)| text).collect()
}

impl Caution {
    /// Whether the words of a step bring the danger that this is about.
    #[must_use]
    pub fn is_brought_by(&self, step: &str) -> bool {
        let mut words = words_of(step);
        words.retain(|word| !word.is_denied);
        // Eyes that are embroidered are no parts.
        let embroidered = words.iter().any(|word| word.text.starts_with("embroider"));
        words.retain(|word| !(embroidered && word.text == "eye"));
        self.brought_by.iter().any(|phrase| stands_in(&words, phrase))
    }
}

/// Whether the words of a phrase stand there one after the other.
fn stands_in(words: &[Word], phrase: &str) -> bool {
    let wanted: Vec<&str> = phrase.split(' ').collect();
    words.windows(wanted.len()).any(|run| run.iter().zip(&wanted).all(|(word, wanted)| word.text == *wanted))
}

/// For whom or what a pattern is: what it says, and what its words tell. A thing for a pet is for no child.
fn audiences(pattern: &Pattern) -> Vec<Option<Audience>> {
    let head = &pattern.head;
    let mut all = vec![head.audience];
    if head.audience == PET {
        return all;
    }
    let fits = head.fits.iter().map(|fits| fits.text.as_str());
    let texts = std::iter::once(head.title.as_str()).chain(head.about.as_deref()).chain(fits);
    let words: Vec<Word> = texts.chain(pattern.sizes.iter().map(String::as_str)).flat_map(words_of).collect();
    let told = |wanted: &[&str]| words.iter().any(|word| !word.is_denied && wanted.contains(&word.text.as_str()));
    all.extend(TOLD_BY.iter().filter(|(_, wanted)| told(wanted)).map(|(audience, _)| *audience));
    all
}

/// A word of the pattern.
struct Word {
    /// In small letters and without the s of a plural.
    text: String,
    /// `no` or `without` stands right before it.
    is_denied: bool,
}

/// Every word of the pattern.
fn words(pattern: &Pattern) -> Vec<Word> {
    let head = &pattern.head;
    let mut texts: Vec<&str> = vec![&head.title];
    texts.extend(head.about.as_deref());
    texts.extend(head.notions.iter().map(String::as_str));
    texts.extend(head.notes.iter().map(|note| note.text.as_str()));
    texts.extend(head.fits.iter().map(|fits| fits.text.as_str()));
    for yarn in &head.yarns {
        texts.extend(yarn.colour.as_deref());
        texts.extend(yarn.more.iter().map(String::as_str));
    }
    for piece in &pattern.pieces {
        texts.push(&piece.name);
        texts.extend(piece.items.iter().filter_map(|item| match &item.kind {
            ItemKind::Words(words) => Some(words.text.as_str()),
            ItemKind::Trim(trim) => Some(match trim.what {
                TrimKind::Pompon(_) => "pompon",
                TrimKind::Fringe(_) => "fringe",
                TrimKind::Cord(_) => "cord",
            }),
            ItemKind::Work(_)
            | ItemKind::Again(_)
            | ItemKind::FastenOff
            | ItemKind::Gather(_)
            | ItemKind::Seam(..)
            | ItemKind::SeamEdges(_)
            | ItemKind::Sew { .. }
            | ItemKind::Surface(_)
            | ItemKind::Place(_)
            | ItemKind::ChangeTo(_)
            | ItemKind::Now(_)
            | ItemKind::Using(_) => None,
        }));
    }
    texts.into_iter().flat_map(words_of).collect()
}

fn words_of(text: &str) -> Vec<Word> {
    let (mut words, mut denies) = (Vec::new(), false);
    for part in text.split_whitespace() {
        let inner = part.split(|c: char| !c.is_alphabetic()).filter(|word| !word.is_empty()).map(str::to_lowercase);
        words.extend(inner.enumerate().map(|(at, word)| Word { text: singular(&word), is_denied: denies && at == 0 }));
        // A stop or a comma after `no` ends what it denies.
        let last = part.trim_start_matches(|c: char| !c.is_alphabetic()).to_lowercase();
        denies = ["no", "without"].contains(&last.as_str());
    }
    words
}

fn singular(word: &str) -> String {
    word.strip_suffix('s').unwrap_or(word).to_owned()
}

#[cfg(test)]
mod tests {
    use super::cautions;

    fn abouts(audience: &str, about: &str) -> Vec<&'static str> {
        let text = format!(
            "pattern Tern Cap\nabout {about}\nterms US\n{audience}\nhook 4 mm\npiece A, in a spiral\nstart ring\n\
             rnd 1: 6 sc in ring = 6\n"
        );
        cautions(&crate::compile(&text).pattern).into_iter().map(|caution| caution.about).collect()
    }

    #[test]
    fn what_a_pattern_does_without_is_no_reason_for_a_caution() {
        assert_eq!(abouts("", "It has no ties and is worked without any fuss."), [""; 0]);
        assert_eq!(abouts("", "It is made (without buttons)."), [""; 0]);
        assert_eq!(abouts("for adult", "No oven is needed."), [""; 0]);
        assert_eq!(abouts("", "It has no cuffs and two ties."), ["Cords and ties"]);
        assert_eq!(abouts("", "Is it plain? No, ties are added."), ["Cords and ties"]);
        assert_eq!(abouts("for home", "Put it under hot pans."), ["Heat"]);
    }

    #[test]
    fn what_is_put_on_counts_though_no_words_name_it() {
        let abouts = |audience: &str, trim: &str| {
            let text = format!(
                "pattern Tern Vest\nterms US\nfor {audience}\nhook 4 mm\nyarn A\npiece A, in a spiral\nwith A\nstart ring\n\
                 rnd 1: 6 sc in ring = 6\nfasten off\n{trim}\n"
            );
            let compiled = crate::compile(&text);
            assert!(compiled.findings.is_empty(), "{:?}", compiled.findings);
            cautions(&compiled.pattern).into_iter().map(|caution| caution.about).collect::<Vec<_>>()
        };
        assert!(abouts("child", "cord 60 cm of ch").contains(&"Cords and ties"));
        assert!(abouts("toy", "cord 60 cm of sl st in A").contains(&"Cords on a toy"));
        assert!(abouts("child", "pompon 120 wraps round 8 cm").contains(&"Pompoms, tassels and fringes"));
        assert!(abouts("baby", "fringe 40 strands of 12 in").contains(&"Pompoms, tassels and fringes"));
        assert!(abouts("adult", "pompon 120 wraps round 8 cm").is_empty());
    }

    /// The cautions for a baby or a child can't be got rid of by leaving out whom it is for.
    #[test]
    fn the_words_tell_for_whom_it_is() {
        assert!(abouts("", "A bonnet for a baby.").contains(&"Hats and sleep"));
        assert!(abouts("for adult", "A cap with ties for girls and women.").contains(&"Cords and ties"));
        assert!(abouts("for home", "A small doll on a shelf.").contains(&"Toys"));
        assert!(!abouts("for pet", "A toy for the cat.").contains(&"Toys"));
        assert!(!abouts("for adult", "A cap for a grown woman.").contains(&"Selling or giving away"));
        let sizes = "pattern X\nterms US\nsizes 0-6 months / 6-12 months\npiece A, in a spiral\nstart ring\n\
                     rnd 1: 6 sc in ring = 6\n";
        assert!(cautions(&crate::compile(sizes).pattern).iter().any(|caution| caution.about == "Small parts"));
    }

    /// Each number of a caution is the one of its source, and stands beside the name of the source.
    /// Sources: 16 CFR 1501.2 and 1501.4; 16 CFR 1120 with ASTM F1816; EN 14682 (Tukes); AAP, Pediatrics 150(1)
    /// e2022057990; EN 71-1 scope; CPSIA section 103; 16 CFR 1615 and 1616.
    #[test]
    fn facts_stand_beside_their_sources() {
        let of_cords = format!("{}\n{}\n", super::AT_HOOD_AND_NECK, super::AT_THE_WAIST);
        let told: String = super::RULES.iter().map(|rule| format!("{}\n", rule.text)).chain([of_cords]).collect();
        for (source, fact) in [
            ("16 CFR 1501", "off articles for children under 3"),
            ("16 CFR 1120", "sizes 2T to 12"),
            ("16 CFR 1120", "sizes 2T to 16) let at most 3 in"),
            ("EN 14682", "up to 7 years"),
            ("EN 14682", "from 7 to 14 years"),
            ("EN 14682 does not cover", "hats and scarves"),
            ("American Academy of Pediatrics, 2022", "for the first 12 months"),
            ("American Academy of Pediatrics, 2022", "sleep indoors with their heads covered"),
            ("EN 71-1", "whatever its label says"),
            ("CPSIA", "12 years and younger"),
            ("16 CFR 1615 and 1616", "nightclothes"),
        ] {
            let found = told.lines().any(|line| line.contains(source) && line.contains(fact));
            assert!(found, "{source}: {fact}");
        }
        assert!(super::RULES.iter().all(|rule| !rule.text.to_lowercase().contains("safe")));
    }

    /// A small part is one whatever its maker calls it and whatever it is put on.
    #[test]
    fn eyes_that_are_pushed_in_are_small_parts_on_anything() {
        for audience in ["for toy", "for child", "for home", "for adult", ""] {
            assert!(abouts(audience, "It has safety eyes.").contains(&"Small parts"), "{audience}");
        }
        assert_eq!(abouts("for home", "A safety pin marks the round; it has no eyes."), [""; 0]);
        assert_eq!(abouts("for home", "It is made without safety eyes."), [""; 0]);
    }

    /// A cord is told of as it is worn: at a bonnet there is no waist, and at a bootie neither waist nor neck.
    #[test]
    fn rules_for_cords_go_with_the_thing() {
        let told = |about: &str| {
            let text = format!(
                "pattern Tern\nabout {about}\nterms US\nfor child\nhook 4 mm\npiece A, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\n"
            );
            let all = cautions(&crate::compile(&text).pattern);
            all.into_iter().find(|caution| caution.about == "Cords and ties").unwrap().text
        };
        let says = |about: &str| {
            let text = told(about);
            (text.contains("hood or neck"), text.contains("At the waist"))
        };
        assert_eq!(says("A bonnet with ties."), (true, false));
        assert_eq!(says("A jacket with a cord."), (true, true));
        assert_eq!(says("Socks with a ribbon."), (false, false));
        assert_eq!(says("A thing with a cord."), (true, true));
    }

    #[test]
    fn for_a_child_the_word_is_enough() {
        assert!(abouts("for child", "It has no ties.").contains(&"Cords and ties"));
        assert!(abouts("for baby", "A hat without ties.").contains(&"Cords and ties"));
        assert!(abouts("for toy", "There is no ribbon.").contains(&"Cords on a toy"));
    }
}
