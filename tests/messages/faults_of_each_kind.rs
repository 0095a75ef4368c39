//! Slips in what garments, toys, motifs and colourwork are written with: each is found by one message, at its line.
//!
//! The patterns are the project's own; what a slip is follows from the counts of each pattern.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]

use ringtrue::compile;

/// What is written, what is written there by a slip, the code of the message, and words of the line that it stands in.
type Slip = (&'static str, &'static str, &'static str, &'static str);

/// Every slip of a text gets one message and no other, and the text itself none.
fn each_is_found(text: &str, slips: &[Slip]) {
    let text = format!("pattern Jetty Things\n{text}");
    let findings = compile(&text).findings;
    assert!(findings.is_empty(), "{text}\n{findings:#?}");
    assert!(slips.len() >= 3);
    for (old, new, code, line) in slips {
        assert_eq!(text.matches(old).count(), 1, "`{old}` stands once in the pattern");
        let slipped = text.replace(old, new);
        let findings = compile(&slipped).findings;
        let said: Vec<(&str, &str, &str)> = findings
            .iter()
            .map(|found| {
                let start = slipped.get(..found.primary.span.start).unwrap().rfind('\n').map_or(0, |at| at + 1);
                (found.code.0, slipped.get(start..).unwrap().lines().next().unwrap(), found.message.as_str())
            })
            .collect();
        let one = matches!(said.as_slice(), [(found, at, _)] if found == code && at.contains(line));
        assert!(one, "`{old}` to `{new}`: {said:#?}");
    }
}

#[test]
fn openings() {
    each_is_found(
        "terms US\n\npiece Hand, in joined rounds\nlead ch 1\nstart ch 24 joined\nrnd 1: sc in next 24 ch = 24\n\
         rnd 2: sc 6, set aside next 6 as thumb, ch 2, sc to end = 18\nrnd 3: sc 6, sc in next 2 ch, sc to end = 20\n\
         fasten off\n\npiece Thumb, in joined rounds\nlead ch 1\n\
         start around thumb of Hand from middle of chain with 1 at each corner\nrnd 1: sc to end = 10\nfasten off\n",
        &[
            ("next 6 as thumb", "next 5 as thumb", "count", "rnd 2"),
            ("around thumb", "around thump", "unknown-name", "start around"),
            ("with 1 at", "with 2 at", "count", "rnd 1: sc to end"),
            (", ch 2, sc to end", ", sc to end", "no-place", "rnd 3"),
        ],
    );
}

#[test]
fn edges_by_name() {
    each_is_found(
        "terms US\n\npiece Back, in rows\nlead ch 1\nstart ch 21\nrow 1: sc in 2nd ch from hook, sc to end = 20\n\
         rows 2-10: sc to end = 20\nfasten off\n\npiece Front, in rows, as Back\nfasten off\n\
         seam first 6 of top of Back to first 6 of top of Front\nseam last 6 of top of Back to last 6 of top of Front\n\n\
         piece Sleeve, in rows\nlead ch 1\nstart left edge of Front\nrow 1: sc to end = 10\nfasten off\n\n\
         piece Band, in rows\nlead ch 1\nstart right edge of Front\nrow 1: sc in each st to end = 10\nfasten off\n",
        &[
            ("seam first 6 of top of Back", "seam first 7 of top of Back", "seam", "seam first 7"),
            ("start left edge of Front", "start left edge of Frunt", "unknown-name", "start left edge"),
            ("in each st to end = 10", "in each st to end = 9", "count", "in each st to end"),
            ("row 1: sc to end = 10", "row 1: sc 9 = 9", "left-over", "row 1: sc 9"),
        ],
    );
}

#[test]
fn joined_pieces() {
    each_is_found(
        "terms US\n\npiece Left Leg, in joined rounds\nlead ch 1\nstart ch 12 joined\nrnd 1: sc in next 12 ch = 12\n\
         fasten off\n\npiece Right Leg, in joined rounds, as Left Leg\nfasten off\n\npiece Body, in joined rounds\nlead ch 1\n\
         start top of Left Leg + ch 4 + top of Right Leg + other side of ch\nrnd 1: sc to end = 32\nfasten off\n\n\
         piece Square, in joined rounds, in a layout of 3 x 2, joined in ch-1 sp, corners in ch-3 sp\nlead ch 3 as dc\nstart ring\n\
         rnd 1: 2 dc in ring, [ch 3, 3 dc in ring] 3 times, ch 3 = 12 dc + 4 ch-3 sp\n\
         rnd 2: move to next ch-3 sp, (2 dc, ch 3, 3 dc) in same, ch 1, [(3 dc, ch 3, 3 dc) in next ch-3 sp, ch 1] 3 times = 24 dc + 4 ch-3 sp + 4 ch-1 sp\n\
         fasten off\n",
        &[
            ("+ ch 4 +", "+ ch 3 +", "count", "rnd 1: sc to end"),
            ("+ top of Right Leg", "+ top of Left Leg", "taken", "start top"),
            ("corners in ch-3 sp", "corners in ch-5 sp", "layout", "piece Square"),
            ("joined in ch-1 sp", "joined in ch-2 sp", "layout", "piece Square"),
        ],
    );
}

#[test]
fn colour_by_stitch() {
    each_is_found(
        "terms US\nyarn A\nyarn B\ngrid Gulls = 9 A + 3 B\nlegend x = B\n|AxA| = 2 A + 1 B\n|xAA|\n|AAx|\n|AAA|\n\n\
         piece Panel, in rows\nwith A\nlead ch 1\nstart ch 13\nrow 1: sc in 2nd ch from hook, sc to end = 12\n\
         rows 2-5: grid Gulls to end = 12\nrow 6: sc 4 A, 3 B, A to end = 9 A + 3 B\nfasten off\n",
        &[
            ("|AxA|", "|xxA|", "grid-count", "|xxA|"),
            ("|xAA|", "|xAAA|", "grid-width", "|xAAA|"),
            ("rows 2-5:", "rows 2-6:", "grid-rows", "rows 2-6"),
            ("3 B, A to end", "4 B, A to end", "count", "row 6"),
            ("start ch 13", "start ch 14", "count", "row 1"),
        ],
    );
}

#[test]
fn in_the_middle_of_a_round() {
    each_is_found(
        "terms US\n\npiece Cowl, in joined rounds\nlead ch 1\nstart ch 24 joined\nrnd 1: sc in next 24 ch = 24\n\
         row 2: sc 8, turn = 8\nrow 3: sc 4, turn = 4\nrnd 4: sc to end = 24\nrnd 5: [sc, ch 5, skip 2] to end = 8 sc + 8 ch-5 sp\n\
         rnd 6: [sc in 3rd ch of next ch-5 sp, ch 3] to end = 8 sc + 8 ch-3 sp\n\
         rnd 7: [3 dc in next ch-3 sp] to end = 24\n\
         rnd 8: [skip 2, dc 2, dc in 2 skipped in front] to end = 24\nfasten off\n",
        &[
            ("row 3: sc 4, turn = 4", "row 3: sc 4, turn = 5", "count", "row 3"),
            ("sc in 3rd ch of", "sc in 6th ch of", "no-place", "rnd 6"),
            ("rnd 4: sc to end = 24", "rnd 4: sc to end = 20", "count", "rnd 4"),
            ("[skip 2, dc 2,", "[skip 1, dc 2,", "no-place", "rnd 8"),
        ],
    );
}

#[test]
fn changes_within_a_piece() {
    each_is_found(
        "terms US\n\npiece Bonnet, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 12 sc in ring = 12\nrnd 2: inc to end = 24\n\
         now in rows\nrow 3: sc to last 4, leave 4 = 20\nrows 4-6: sc to end = 20\n\
         now in joined rounds, without turning\nrnd 7: sc to end, ch 4 = 20\nrnd 8: sc 20, sc in next 4 ch = 24\nfasten off\n\n\
         piece Scarf, in Tunisian rows\nstart ch 12\nrow 1: tss in 2nd ch from hook, tss to end = 12\nrow 2: tss to end = 12\n\
         row: sl st to end\nfasten off\n",
        &[
            ("leave 4 = 20", "leave 3 = 20", "leave", "row 3"),
            ("sc to end, ch 4 = 20", "sc to end, ch 3 = 20", "no-place", "rnd 8"),
            ("sc in next 4 ch = 24", "sc in next 3 ch = 24", "left-over", "rnd 8"),
            ("row 2: tss to end = 12", "row 2: tss to end = 11", "count", "row 2: tss"),
        ],
    );
}

#[test]
fn less_writing() {
    each_is_found(
        "terms US\n\npiece Front, in rows\nlead ch 1\nstart ch 21\nrow 1: sc in 2nd ch from hook, sc to end = 20\n\
         row 2: sc to end = 20\nrow 3: sc2tog, sc to end = 19\nagain rows 2-3, 3 times = 16\nrow 10: sc to end = 16\n\
         again until row 12\nfasten off\n\npiece Other Front, in rows, as Front to row 3\nrow 4: sc to end = 19\nfasten off\n",
        &[
            ("again rows 2-3, 3 times = 16", "again rows 2-3, 3 times = 15", "count", "again rows 2-3"),
            ("again until row 12", "again until row 8", "until", "again until"),
            ("as Front to row 3", "as Front to row 13", "numbering", "piece Other Front"),
            ("again rows 2-3, 3", "again rows 2-13, 3", "numbering", "again rows 2-13"),
        ],
    );
}

#[test]
fn words_and_places_by_size() {
    each_is_found(
        "sizes small / large\nterms US\n\npiece Head, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\nrnd 2: inc to end = 12\n\
         rnd 3: [sc, inc] to end = 18\nonly large: rnd 4: [sc 2, inc] to end = 24\nrnd: sc to end = 18 / 24\n\
         again until row 8\n> Stuff the head, and keep 4 / 5 rounds free.\nplace 2 safety eyes between rnds 6 and 7, 5 apart\nfasten off\n",
        &[
            ("rnds 6 and 7", "rnds 6 and 8", "place", "place 2"),
            ("rnds 6 and 7", "rnds 16 and 17", "place", "place 2"),
            ("= 18 / 24", "= 18 / 23", "count", "rnd: sc to end"),
            ("only large: rnd 4", "only largo: rnd 4", "unknown-name", "only largo"),
        ],
    );
}

#[test]
fn starts_on_what_is_not_crocheted() {
    each_is_found(
        "terms US\n\npiece Edging, in joined rounds\nlead ch 1\nstart 60 places on the hem of the towel\nrnd 1: sc to end = 60\n\
         rnd 2: [sc 4, skip 1, 5 dc in next] to end = 90\nfasten off\n",
        &[
            ("start 60 places", "start 58 places", "count", "rnd 1"),
            ("[sc 4, skip 1", "[sc 5, skip 1", "repeat-fit", "rnd 2"),
            ("rnd 1: sc to end = 60", "rnd 1: sc 58 = 60", "left-over", "rnd 1"),
        ],
    );
}
