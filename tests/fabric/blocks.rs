//! Blocks from corner to corner in stitches, counted in blocks, held against the same cloth as a grid.

#![expect(clippy::indexing_slicing, reason = "a test says what it expects by failing")]

use ringtrue::compile;
use ringtrue::fabric::Row;

fn rows(head: &str, lines: &str) -> Vec<Row> {
    let compiled = compile(&format!("pattern Sail\nterms US\n{head}\npiece Sail, in rows\n{lines}"));
    assert!(compiled.findings.is_empty(), "{:?}", compiled.findings);
    compiled.fabric.pieces[0].sizes[0].rows.as_slice().to_vec()
}

const BEGIN: &str = "row 1: corner-block = 1 block\nrow 2: new-block, block to end = 2 block\n";

#[test]
fn rows_grow_stay_and_shrink_by_a_block_at_either_side() {
    let text = format!(
        "start ch 6\n{BEGIN}again row 2 until row 4 = 4 block\n\
         row 5: first-block, block to end = 4 block\n\
         row 6: new-block, block to last ch-3 sp, sl st in next ch-3 sp = 4 block\n\
         row 7: first-block, block to last ch-3 sp, sl st in next ch-3 sp = 3 block\n\
         row 8: first-block, block to last ch-3 sp, sl st in next ch-3 sp = 2 block\n\
         row 9: first-block, sl st in next ch-3 sp = 1 block\n"
    );
    let rows = rows("blocks ch 3, 3 dc", &text);
    let dc: Vec<u32> = rows.iter().map(|row| row.ledger.stitches).collect();
    // Three a block, and a slip stitch before each that is no new one, or instead of one at the end.
    assert_eq!(dc, [3, 7, 11, 15, 15, 16, 12, 8, 4]);
}

/// The grid is a technique of its own; what is worked is the same, stitch for stitch.
#[test]
fn a_square_of_blocks_is_the_square_of_a_grid() {
    let grid = rows("yarn A\ngrid Flag, corner to corner\n|AAA|\n|AAA|\n|AAA|\n", "start ch 6\nrows 1-5: grid Flag\n");
    let text = format!("start ch 6\n{BEGIN}row 3: new-block, block to end = 3 block\n");
    let blocks = rows("yarn A\nblocks ch 3, 3 dc", &text);
    let edge = |row: &Row| (row.ledger.stitches, row.ledger.chains);
    assert_eq!(edge(&blocks[0]), edge(&grid[0]));
    assert_eq!(edge(&blocks[1]), edge(&grid[1]));
    assert_eq!(edge(&blocks[2]).1, edge(&grid[2]).1);
}

#[test]
fn smaller_blocks_have_their_own_chains() {
    let rows = rows("blocks ch 2, 3 hdc", &format!("start ch 5\n{BEGIN}row 3: new-block, block 2 = 3 block\n"));
    assert_eq!(rows[2].ledger.chains, 6);
}
