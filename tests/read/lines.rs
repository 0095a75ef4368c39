//! Lines that were broken at the edge of the sheet are read as they are without the break.

use ringtrue::read::read;

const HEAD: &str = "# Slipway Cap\n\n## Crown\n\nMake a magic ring.\n\nRnd 1: 8 sc in ring. (8)\n\nRnd 2: Inc in each st around. (16)\n\n\
                    Rnd 3: *Sc in next st, inc; rep from * around. (24)\n\n";

fn notation(lines: &str) -> String {
    read(&format!("{HEAD}{lines}")).notation
}

#[test]
fn a_row_that_is_spoken_of_may_come_to_stand_first_in_a_line() {
    let whole = notation("Rnds 4–7: Rep Rnd 2 until there are 384 sts in the round, ending with Rnd 2. (384)\n");
    let broken = notation("Rnds 4–7: Rep Rnd 2 until there are 384 sts in the round, ending with\nRnd 2. (384)\n");
    assert_eq!(broken, whole);
}

#[test]
fn how_often_a_group_is_worked_may_stand_below_it_where_rows_stand_close() {
    let rows = "# Slipway Cap\n\n## Crown\n\nMake a magic ring.\nRnd 1: 8 sc in ring. (8)\nRnd 2: Inc in each st around. (16)\n\
                Rnd 3: Sc around. (16)\nRnd 4: [2 sc in next st, working in both loops, sc in next st] 8 times. (24)\nRnd 5: Sc around. (24)\n";
    assert_eq!(read(&rows.replace("] 8 times", "]\n8 times")).notation, read(rows).notation);
}

#[test]
fn bare_counts_as_many_as_the_sizes_are_one_for_each() {
    let text = "# Slipway Band\n\nSizes: Child (Adult, Large)\nUS terms.\n\n## Band\n\nCh 9 (11, 11).\n\n\
                Row 1: Sc in 2nd ch from hook and in each ch across. (8, 10, 10 sts)\n\n\
                Row 2: Ch 1, turn, sc in each st across. (8, 10, 10)\n";
    let notation = read(text).notation;
    assert_eq!(notation.matches("= 8 / 10 / 10").count(), 2, "{notation}");
    assert!(notation.contains("sizes Child / Adult / Large\n"), "{notation}");
}

/// A word that is put right is said, and what makes a stitch is never taken for a remark.
#[test]
fn nothing_is_put_right_or_left_out_in_silence() {
    let slip = read(&format!("{HEAD}Rnd 4: Sc in eahc st around. (24)\n"));
    assert!(slip.notation.contains("# read by choosing: “eahc” is taken for “each”\n"), "{}", slip.notation);
    for line in [
        "Sc around, do not join and sc in next st.",
        "Do not join but work 2 sc in each st around.",
        "Do not turn sc in each st around.",
        "Sc around, being careful not to twist and sc in next 4 sts.",
    ] {
        let notation = notation(&format!("Rnd 4: {line} (24)\n"));
        assert!(notation.contains("could not be read"), "{line}: {notation}");
    }
    assert!(!notation("Rnd 4: Sc around, do not join. (24)\n").contains("could not be read"));
}
