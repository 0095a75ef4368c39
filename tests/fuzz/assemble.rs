//! Puts a pattern together from lines of the notation, as bytes say.

/// Words of which lines are made, most of which may follow one another.
const STEPS: [&str; 46] = [
    "sc",
    "dc 2",
    "hdc to end",
    "sc to last 2",
    "inc",
    "sc2tog",
    "dc3tog in next 3",
    "2 dc in next",
    "3 sc in same",
    "(dc, ch 2, dc) in next ch-2 sp",
    "(sc, dc) together",
    "sc in each st to end",
    "ch 3",
    "ch 3 as dc",
    "skip 1",
    "skip next ch-2 sp",
    "sl st in first",
    "sl st 2",
    "leave 3",
    "leave rest",
    "turn",
    "other side",
    "no lead",
    "lead ch 2",
    "mark a",
    "in a",
    "sc to a",
    "change to B",
    "fasten off",
    "rejoin B in next",
    "close with ch 2 and dc",
    "6 inc evenly in sc to end",
    "behind rnd 1",
    "join to One in ch-2 sp",
    "dc in 4th ch from hook",
    "fpdc",
    "blo sc 3",
    "sc 2 rows below",
    "dc in lead",
    "sc in next gap",
    "dc in skipped",
    "dc in 3rd st",
    "move 2",
    "move to next ch-2 sp",
    "v in next ch-1 sp",
    "turning ch 3 as dc",
];

const HEADS: [&str; 20] = [
    "sizes A / B / C",
    "gauge 17 sts x 18 rows in sc = 10 cm",
    "gauge band 0.1 sts x 999 rows = 4 in",
    "hook 4.5 mm (7)",
    "yarn A \"sand\", weight 4, 50 g = 85 m",
    "yarn B \"silt\"",
    "finished around 46 / 50 / 54 cm",
    "finished length 1/4 in",
    "fits head 48-52 cm",
    "set rim = 60 / 66 / 72",
    "set n = 4",
    "counts stitches and chains",
    "for baby",
    "stitch v \"V\": (dc, ch 1, dc) in next",
    "stitch p \"p\": takes 1, makes 3",
    "swatch 20 sts x 20 rows sc = 7.3 g",
    "version 1 of 2026-03-01",
    "note *Words* <b>",
    "by Wren Hollow",
    "notion button",
];

const PIECE_LINES: [&str; 22] = [
    "lead ch 1",
    "lead ch 3 as dc",
    "with A",
    "stripe A 2, B 1",
    "using band",
    "start ring",
    "start ch 7",
    "start ch 4 joined",
    "start 24 fsc",
    "start edge of One",
    "start other side of One",
    "start top of One",
    "start around One",
    "gather 6",
    "seam row 1 to row 2",
    "sew Two to One over 6",
    "again rows 1-2 until 18 cm",
    "again rnd 2, 3 times",
    "again rows 1-2 until 12 sts",
    "fasten off",
    "pompon 100 wraps round 8 cm",
    "> Words for the maker.",
];

const WAYS: [&str; 5] =
    ["in rows", "in joined rounds", "in a spiral", "in rows from one side", "in joined rounds, turned"];

const NAMES: [&str; 3] = ["One", "Two", "Three"];

/// The pattern that bytes stand for.
pub fn pattern(bytes: &[u8]) -> String {
    let mut bytes = Bytes(bytes.iter());
    let mut text = "pattern Fuzz\nterms US\n".to_owned();
    for _ in 0..bytes.below(8) {
        text.push_str(bytes.one_of(&HEADS));
        text.push('\n');
    }
    for name in NAMES.iter().take(1 + bytes.below(3)) {
        text.push_str(&format!("piece {name}, {}\n", bytes.one_of(&WAYS)));
        for _ in 0..bytes.below(4) {
            text.push_str(bytes.one_of(&PIECE_LINES));
            text.push('\n');
        }
        for _ in 0..bytes.below(8) {
            let line = if bytes.below(5) == 0 { bytes.one_of(&PIECE_LINES).to_owned() } else { work_line(&mut bytes) };
            text.push_str(&line);
            text.push('\n');
        }
    }
    text
}

fn work_line(bytes: &mut Bytes<'_>) -> String {
    let label = if bytes.below(2) == 0 { "row" } else { "rnd" };
    let stated = match bytes.below(4) {
        0 => String::new(),
        1 => format!(" = {} sc + {} ch-2 sp", bytes.below(20), bytes.below(9)),
        _ => format!(" = {}", bytes.below(40)),
    };
    format!("{label}: {}{stated}", steps(bytes, 3))
}

fn steps(bytes: &mut Bytes<'_>, depth: usize) -> String {
    let many = 1 + bytes.below(4);
    let steps: Vec<String> = (0..many).map(|_| step(bytes, depth)).collect();
    steps.join(", ")
}

fn step(bytes: &mut Bytes<'_>, depth: usize) -> String {
    if depth == 0 || bytes.below(4) > 0 {
        return bytes.one_of(&STEPS).to_owned();
    }
    let inside = steps(bytes, depth - 1);
    match bytes.below(6) {
        0 => format!("[{inside}] to end"),
        1 => format!("[{inside}] to last 2"),
        2 => format!("[{inside}, ** {}] to end", bytes.one_of(&STEPS)),
        3 => format!("[on dc: {inside}; on sc: {}] to end", bytes.one_of(&STEPS)),
        _ => format!("[{inside}] {} times", bytes.below(9)),
    }
}

/// Bytes, taken one after the other; when they are used up, noughts.
struct Bytes<'b>(std::slice::Iter<'b, u8>);

impl Bytes<'_> {
    fn below(&mut self, most: usize) -> usize {
        usize::from(self.0.next().copied().unwrap_or(0)) % most
    }

    fn one_of<'t>(&mut self, all: &[&'t str]) -> &'t str {
        let at = self.below(all.len());
        all.get(at).copied().unwrap_or_default()
    }
}
