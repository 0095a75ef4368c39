//! Right work that has been refused, or might be: each text rings true without a word, and with another count it does not.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]

use ringtrue::compile;
use ringtrue::page::{Edition, markdown};

/// What a text is about, and its lines below the terms.
const RIGHT: &[(&str, &str)] = &[
    (
        "yarn is joined to what an earlier row left, behind a part with a neck of its own",
        "piece Body, in rows\n\
         lead ch 1\n\
         start ch 41\n\
         row 1 rs: sc in 2nd ch from hook, sc to end = 40\n\
         row 2: sc to end = 40\n\
         row 3: sc 10, leave rest = 10\n\
         row 4: sc to end = 10\n\
         row 5: sc to last 3, leave 3 = 7\n\
         row 6: sc to end = 7\n\
         fasten off\n\
         row 7: rejoin A in 3rd st, sc to end = 28\n",
    ),
    (
        "shoulders of a front and a back that stand side by side",
        "piece Body, in rows\n\
         lead ch 1\n\
         start ch 41\n\
         row 1 rs: sc in 2nd ch from hook, sc to end = 40\n\
         fasten off\n\
         piece Front, in rows\n\
         lead ch 1\n\
         start first 20 of top of Body\n\
         row 1 rs: sc to end = 20\n\
         fasten off\n\
         piece Back, in rows\n\
         lead ch 1\n\
         start last 20 of top of Body\n\
         row 1 rs: sc to end = 20\n\
         fasten off\n\
         seam last 6 of top of Front to first 6 of top of Back\n",
    ),
    (
        "a post stitch in front of a space, round the stitch that its chain goes over",
        "piece Lattice, in rows\n\
         lead ch 2\n\
         start ch 11\n\
         row 1 rs: hdc in 3rd ch from hook, hdc to end = 9\n\
         row 2: hdc, [ch 1, skip 1, hdc] to end = 5 hdc + 4 ch-1 sp\n\
         row 3: hdc, [fpdc 2 rows below, hdc] to end = 9\n",
    ),
    (
        "rows that are said again in the yarn that they were begun in",
        "yarn B\n\
         piece Mat, in rows\nwith A\nlead ch 1\nstart ch 5\n\
         row 1: sc in 2nd ch from hook, sc to end = 4\n\
         change to B\n\
         rows 2-3: sc to end = 4\n\
         change to A\n\
         row 4: sc to end = 4\n\
         change to B\n\
         again rows 2-3, once\n\
         change to A\n\
         row 7: sc to end = 4\n",
    ),
    (
        "front loops that are left free, worked along as front loops",
        "piece Base, in joined rounds\nlead ch 1\nstart ring\n\
         rnd 1: 8 sc in ring = 8\n\
         rnd 2: blo sc to end = 8\n\
         piece Frill, in joined rounds\nlead ch 1\nstart front loops of rnd 1 of Base\n\
         rnd 1: flo sc to end = 8\n",
    ),
    (
        "free loops seen from the other side, where the back loop is the one in front",
        "piece Base, in rows\nlead ch 1\nstart ch 9\n\
         row 1: sc in 2nd ch from hook, sc to end = 8\n\
         row 2: blo sc to end = 8\n\
         row 3: sc to end = 8\n\
         piece Frill, in rows\nlead ch 1\nstart front loops of row 1 of Base\n\
         row 1: blo sc to end = 8\n",
    ),
    (
        "two panels of one piece, sewn together at both sides",
        "piece Panel, in rows, make 2\nlead ch 1\nstart ch 9\n\
         row 1: sc in 2nd ch from hook, sc to end = 8\n\
         rows 2-8: sc to end = 8\n\
         seam left edge of Panel to left edge of Panel\n\
         seam right edge of Panel to right edge of Panel\n",
    ),
    (
        "squares that are joined at their corners alone",
        "piece Square, in joined rounds, in a layout of 2 x 2, joined in ch-3 sp, corners in ch-3 sp\n\
         lead ch 3 as dc\n\
         start ring\n\
         rnd 1: 2 dc in ring, ch 3, [3 dc in ring, ch 3] 3 times = 12\n",
    ),
    (
        "rounds that are closed with a tall stitch and then turned",
        "piece Mat, in joined rounds, turned\n\
         lead ch 3 as dc\n\
         start ring\n\
         rnd 1: 2 dc in ring, [ch 2, 3 dc in ring] 3 times, close with ch 1 and sc = 12\n\
         rnd 2: dc in same, dc 3, [(2 dc, ch 2, 2 dc) in next ch-2 sp, dc 3] 3 times, 2 dc in first, \
         close with ch 1 and sc = 28\n\
         rnd 3: dc in same, dc 7, [(2 dc, ch 2, 2 dc) in next ch-2 sp, dc 7] 3 times, 2 dc in first, \
         close with ch 1 and sc = 44\n",
    ),
    (
        "a round begins with a chain that is one stitch of its first cluster",
        "piece Star, in joined rounds\n\
         start ring\n\
         rnd 1: (ch 3 as dc, 2 dc in ring) together, ch 3, [dc3cl in ring, ch 3] 5 times = 6 dc3cl + 6 ch-3 sp\n\
         rnd 2: move to next ch-3 sp, (ch 3 as dc, 2 dc in same) together, ch 3, [dc3cl in next ch-3 sp, ch 3] to end \
         = 6 dc3cl + 6 ch-3 sp\n\
         rnd 3: (ch 3 as dc, dc in next ch) together, [dc2tog] to end = 12 dc2tog\n",
    ),
    (
        "a row begins with a chain that is one stitch of its first decrease",
        "piece Flap, in rows\n\
         lead ch 3 as dc\n\
         start ch 14\n\
         row 1: dc in 4th ch from hook, dc to end = 12\n\
         row 2: (ch 3 as dc, dc 2) together, dc to last 3, dc3tog = 8\n",
    ),
    (
        "a round goes straight along both sides of a chain, round either end",
        "piece Pouch, in a spiral\n\
         start ch 7\n\
         rnd 1: sc in 2nd ch from hook, sc 5, other side, sc 6 = 12\n\
         rnd 2: sc to end = 12\n",
    ),
    (
        "points whose last stitch lies over what they skip",
        "piece Star, in joined rounds\n\
         lead ch 1\n\
         start ring\n\
         rnd 1: 10 sc in ring = 10\n\
         rnd 2: inc to end = 20\n\
         rnd 3: [ch 6, sl st in 2nd ch from hook, sc in next ch, hdc in next ch, dc in next 2 ch, skip 3, sl st] 5 times \
         = 10 dc + 5 hdc + 5 sc\n",
    ),
    (
        "places that a short row slips along wait with the others",
        "piece Cap, in joined rounds\n\
         lead ch 1\n\
         start ring\n\
         rnd 1: 12 sc in ring = 12\n\
         rnd 2: inc to end = 24\n\
         row 3: sc 8, turn = 8\n\
         row 4: move 2, sc 4, turn = 4\n\
         rnd 5: sc to end = 24\n",
    ),
    (
        "places that a row slips along beside others that wait, in rows",
        "piece Wrap, in rows\n\
         lead ch 1\n\
         start ch 21\n\
         row 1: sc in 2nd ch from hook, sc to end = 20\n\
         row 2: sc 8, turn = 8\n\
         row 3: move 2, sc to end = 6\n\
         row 4: sc to end = 20\n",
    ),
    (
        "a round after short ones begins further on, and what it slips along comes last",
        "piece Cap, in joined rounds\n\
         lead ch 1\n\
         start ring\n\
         rnd 1: 12 sc in ring = 12\n\
         rnd 2: inc to end = 24\n\
         row 3: sc 8, turn = 8\n\
         row 4: sc 8, turn = 8\n\
         rnd 5: move 8, sc to end = 24\n\
         rnd 6: sc to end = 24\n",
    ),
    (
        "an edging round two strips that are sewn together further down",
        "piece Strip, in rows\n\
         lead ch 1\n\
         start ch 11\n\
         row 1: sc in 2nd ch from hook, sc to end = 10\n\
         rows 2-4: sc to end = 10\n\
         fasten off\n\
         piece Other, in rows, as Strip\n\
         fasten off\n\
         piece Edge, in joined rounds\n\
         lead ch 1\n\
         start left edge of Strip + right edge of Other\n\
         rnd 1: sc to end = 8\n\
         fasten off\n\
         seam top of Strip to top of Other\n\
         seam other side of Strip to other side of Other\n",
    ),
    (
        "edges are gone along from left to right with the wrong side facing",
        "piece Band, in rows\n\
         lead ch 1\n\
         start ch 5\n\
         row 1 rs: sc in 2nd ch from hook, sc to end = 4\n\
         rows 2-3: sc to end\n\
         fasten off\n\
         piece Edge, in rows\n\
         lead ch 1\n\
         start left edge of Band + top of Band + right edge of Band\n\
         row 1 ws: sc to end = 10\n",
    ),
    (
        "a band goes along the ends of the rows below what a row has set aside",
        "piece Front, in rows\n\
         lead ch 1\n\
         start ch 9\n\
         row 1: sc in 2nd ch from hook, sc to end = 8\n\
         row 2: sc to end\n\
         row 3: sc 4, set aside next 4 as neck\n\
         rows 4-5: sc to end\n\
         fasten off\n\
         piece Band, in rows\n\
         lead ch 1\n\
         start stitches of neck of Front + last 2 of left edge of Front\n\
         row 1: sc to end = 6\n",
    ),
    (
        "a skipped space is gone back to as a space",
        "piece Band, in rows\n\
         lead ch 1\n\
         start ch 13\n\
         row 1: sc in 2nd ch from hook, sc to end = 12\n\
         row 2: [sc, ch 3, skip 3] to end = 3 sc + 3 ch-3 sp\n\
         row 3: [skip next ch-3 sp, sc, 3 dc in skipped] to end = 3 sc + 9 dc\n",
    ),
    (
        "a top is sewn to the ends of rows that are as long",
        "piece Sail, in rows\n\
         lead ch 3 as dc\n\
         start ch 42\n\
         row 1: dc in 4th ch from hook, dc to end = 40\n\
         rows 2-20: dc to end = 40\n\
         fasten off\n\
         piece Jib, in rows\n\
         lead ch 3 as dc\n\
         start ch 42\n\
         row 1: dc in 4th ch from hook, dc to end = 40\n\
         rows 2-20: dc to end = 40\n\
         fasten off\n\
         seam top of Sail to left edge of Jib\n",
    ),
    (
        "a row goes across both sides of a slit and closes it, from the right to the left",
        "piece Front, in rows\n\
         lead ch 1\n\
         start ch 12\n\
         row 1: sc in 2nd ch from hook, sc to end = 11\n\
         row 2: sc 5, set aside next 6 as other, turn = 5\n\
         rows 3-4: sc to end = 5\n\
         fasten off\n\
         piece Second Side, in rows\n\
         lead ch 1\n\
         start stitches of other of Front\n\
         row 1 ws: sc 6 = 6\n\
         rows 2-3: sc 6 = 6\n\
         piece Yoke, in rows\n\
         lead ch 1\n\
         start top of Second Side + top of Front\n\
         row 1: sc 11 = 11\n",
    ),
    (
        "rows of dc lie along twice as many of sc",
        "piece Side, in rows\n\
         lead ch 1\n\
         start ch 11\n\
         row 1: sc in 2nd ch from hook, sc to end = 10\n\
         rows 2-18: sc to end = 10\n\
         fasten off\n\
         piece End, in rows\n\
         lead ch 3 as dc\n\
         start ch 12\n\
         row 1: dc in 4th ch from hook, dc to end = 10\n\
         rows 2-9: dc to end = 10\n\
         seam left edge of Side to right edge of End\n",
    ),
    (
        "a heel is closed round its instep, the edges in the order in which they are come to",
        "piece A, in joined rounds\n\
         lead ch 1\n\
         start ch 20 joined\n\
         rnd 1: sc to end = 20\n\
         now in rows\n\
         row 2: sc 10, set aside next 10 as instep\n\
         rows 3-8: sc to end\n\
         fasten off\n\
         piece I, in joined rounds\n\
         lead ch 1\n\
         start stitches of instep of A + right edge of A + top of A + left edge of A\n\
         rnd 1: sc to end\n",
    ),
    (
        "what a round sets aside at its end lies beside it, and the heel on the rest leads there",
        "piece Leg, in joined rounds\n\
         lead ch 1\n\
         start ch 20 joined\n\
         rnd 1: sc in each ch to end = 20\n\
         rnd 2: sc 10, set aside to end as instep = 10\n\
         fasten off\n\
         piece Heel, in rows\n\
         lead ch 1\n\
         start top of Leg\n\
         rows 1-6: sc to end = 10\n\
         fasten off\n\
         piece Foot, in joined rounds\n\
         lead ch 1\n\
         start top of Heel + left edge of Heel + stitches of instep of Leg + right edge of Heel\n\
         rnd 1: sc to end = 32\n\
         fasten off\n",
    ),
    (
        "the edge above a step begins where the stitches beside it end",
        "piece A, in rows\n\
         lead ch 1\n\
         start ch 25\n\
         row 1: sc in 2nd ch from hook, sc to end = 24\n\
         row 2: sc 8, set aside next 8 as n, set aside next 8 as r = 8\n\
         rows 3-5: sc to end\n\
         fasten off\n\
         piece B, in rows\n\
         lead ch 1\n\
         start stitches of r of A\n\
         rows 1-4: sc to end\n\
         fasten off\n\
         piece C, in rows\n\
         lead ch 1\n\
         start left edge of B + stitches of n of A + last 4 of right edge of A\n\
         row 1: sc to end\n",
    ),
    (
        "a row of spaces goes past a shell before its first place, as it does between the others",
        "piece Border, in rows from one side\n\
         start ch 8\n\
         row 1: (dc, ch 3, dc) in 1st ch from hook, skip 3, (dc, ch 3, dc) in next, skip 3 = 4 dc + 2 ch-3 sp\n\
         row 2: [(sc, 5 dc, sc) in next ch-3 sp, ch 3] to end, leave 1 = 10 dc + 4 sc + 2 ch-3 sp\n\
         row 3: [2 dc in next ch-3 sp, ch 5] to end = 4 dc + 2 ch-5 sp\n",
    ),
    (
        "what short rows have left at either end is on the last edge of a piece, below and above them",
        "piece Heel, in rows\n\
         lead ch 1\n\
         start ch 21\n\
         row 1: sc in 2nd ch from hook, sc to end = 20\n\
         row 2: sc 14, turn = 14\n\
         row 3: sc 8, turn = 8\n\
         fasten off\n\
         piece Edge, in rows\n\
         lead ch 1\n\
         start top of Heel\n\
         row 1: sc to end = 20\n",
    ),
    (
        "each edge has its own row ends, and after short rows at both sides they lead to the last row",
        "piece Heel, in rows\n\
         lead ch 1\n\
         start ch 21\n\
         row 1: sc in 2nd ch from hook, sc to end = 20\n\
         rows 2-10: sc to end = 20\n\
         row 11: sc 14, turn = 14\n\
         row 12: sc 8, turn = 8\n\
         row 13: sc to end\n\
         row 14: sc to end = 20\n\
         fasten off\n\
         piece Edge, in rows\n\
         lead ch 1\n\
         start right edge of Heel + top of Heel + left edge of Heel\n\
         row 1: sc to end = 44\n",
    ),
    (
        "where rows begin upon a round, their ends have no step below them",
        "piece Bonnet, in joined rounds\n\
         lead ch 1\n\
         start ring\n\
         rnd 1: 12 sc in ring = 12\n\
         now in rows\n\
         row 2: sc to last 4, leave 4 = 8\n\
         row 3: sc to end = 8\n\
         row 4: sc to end = 8\n\
         fasten off\n\
         piece Band, in rows\n\
         lead ch 1\n\
         start left edge of Bonnet\n\
         row 1: sc to end = 3\n",
    ),
    (
        "a stitch of a group may stand in the one just made",
        "piece Edge, in joined rounds\n\
         lead ch 1\n\
         start ch 20 joined\n\
         rnd 1: sc in each ch to end = 20\n\
         rnd 2: [(2 dc, ch 3, sl st in dc just made, 2 dc) in next, skip 3] to end = 20\n",
    ),
    (
        "a Tunisian row has as many places below it as above",
        "piece Cowl, in Tunisian rows\n\
         start ch 30\n\
         row 1: tss in 2nd ch from hook, tss to end = 30\n\
         row 2: tss to end = 30\n\
         fasten off\n\
         seam top of Cowl to other side of Cowl\n",
    ),
    (
        "foundation stitches are a row, which has an end at each side as any other",
        "piece Strip, in rows\n\
         lead ch 1\n\
         start 10 fsc\n\
         row 1: sc to end = 10\n\
         rows 2-9: sc to end = 10\n\
         fasten off\n\
         piece Left, in rows\n\
         lead ch 1\n\
         start left edge of Strip\n\
         row 1: sc to end = 10\n\
         fasten off\n\
         piece Right, in rows\n\
         lead ch 1\n\
         start right edge of Strip\n\
         row 1: sc to end = 10\n",
    ),
    (
        "a round goes along the edge of a strip whose ends are sewn",
        "piece Brim, in rows\n\
         lead ch 1\n\
         start ch 7\n\
         row 1: sc in 2nd ch from hook, sc to end = 6\n\
         rows 2-24: sc to end = 6\n\
         fasten off\n\
         seam row 1 to row 24\n\
         piece Crown, in joined rounds\n\
         lead ch 1\n\
         start edge of Brim\n\
         rnd 1: sc to end = 24\n",
    ),
    (
        "a yoke in rows, open at the back, and the body in rounds from there on",
        "piece Yoke, in rows\n\
         lead ch 1\n\
         start ch 41\n\
         row 1: sc in 2nd ch from hook, sc to end = 40\n\
         rows 2-8: sc to end = 40\n\
         fasten off\n\
         piece Body, in joined rounds\n\
         lead ch 1\n\
         start first 20 of top of Yoke + last 20 of top of Yoke\n\
         rnd 1: sc to end = 40\n",
    ),
    (
        "an oval round a chain: three in each end, the far end's chain and the near one are worked from one side only",
        "piece Mat, in joined rounds\n\
         lead ch 1\n\
         start ch 30\n\
         rnd 1: 3 sc in 2nd ch from hook, sc 27, 3 sc in next, other side, sc 27 = 60\n\
         rnd 2: sc to end = 60\n",
    ),
    (
        "an oval that begins with two of its end and closes with two more in the same chain",
        "piece Mat, in joined rounds\n\
         lead ch 1\n\
         start ch 30\n\
         rnd 1: 2 sc in 2nd ch from hook, sc 27, 4 sc in next, other side, sc 27, 2 sc in next = 62\n",
    ),
    (
        "an oval that begins with one stitch and closes with two in the same chain",
        "piece Mat, in a spiral\n\
         start ch 10\n\
         rnd 1: sc in 2nd ch from hook, sc to last 1, 3 sc in last, other side, sc to last 1, 2 sc in last = 20\n",
    ),
    (
        "an oval in tall stitches",
        "piece Mat, in joined rounds\n\
         lead ch 3 as dc\n\
         start ch 12\n\
         rnd 1: 5 dc in 4th ch from hook, dc 7, 6 dc in next, other side, dc 7 = 26\n",
    ),
    (
        "an oval in several sizes, and its second round",
        "sizes small / large\n\
         piece Mat, in joined rounds\n\
         lead ch 1\n\
         start ch 10 / 14\n\
         rnd 1: 3 sc in 2nd ch from hook, sc 7 / 11, 3 sc in next, other side, sc 7 / 11 = 20 / 28\n\
         rnd 2: [2 sc in next 3, sc 7 / 11] 2 times = 26 / 34\n",
    ),
    (
        "chains that the lead of a net passes over are met again along its other side",
        "piece Net, in rows\n\
         lead ch 3 as dc\n\
         start ch 23\n\
         row 1: turning ch 5 as dc + ch-2 sp, dc in 8th ch from hook, [ch 2, skip 2, dc] to end = 7 dc + 6 ch-2 sp\n\
         fasten off\n\
         piece Edge, in rows\n\
         lead ch 1\n\
         start other side of Net\n\
         row 1: sc to end = 19\n",
    ),
    (
        "and by the round itself",
        "piece Net, in joined rounds\n\
         lead ch 3 as dc\n\
         start ch 23\n\
         rnd 1: turning ch 5 as dc + ch-2 sp, dc in 8th ch from hook, [ch 2, skip 2, dc] to end, \
         ch 2, other side, [skip 2, dc, ch 2] to last 2, skip 2 = 12 dc + 12 ch-2 sp\n",
    ),
    (
        "slip stitches that smooth the end of a spiral leave the whole round on top",
        "piece Ball, in a spiral\n\
         start ring\n\
         rnd 1: 6 sc in ring = 6\n\
         rnd 2: inc 6 = 12\n\
         rnd 3: sl st 2, leave rest\n\
         fasten off\n\
         piece Brim, in joined rounds\n\
         lead ch 1\n\
         start top of Ball\n\
         rnd 1: 2 sc in next sl st, sc in next sl st, sc in next 10 sc = 13\n",
    ),
    (
        "a counted lead with more in the same place stands in the space that comes first",
        "piece Square, in joined rounds\n\
         lead ch 1\n\
         start ring\n\
         rnd 1: [ch 3, 3 dc in ring] 4 times = 12 dc + 4 ch-3 sp\n\
         rnd 2: ch 3 as dc, 4 dc in same, [dc in next 3 dc, 5 dc in next ch-3 sp] 3 times, dc in next 3 dc = 32\n",
    ),
    (
        "stitches of a shell count for the shell, where it is named",
        "stitch shell \"shell\": 5 dc in next\n\
         piece Mat, in rows\n\
         lead ch 3 as dc\n\
         start ch 15\n\
         row 1: dc in 4th ch from hook, dc to end = 13\n\
         row 2: [skip 2, shell, skip 2, dc] 2 times = 2 shell + 3 dc\n",
    ),
    (
        "and for themselves, where it isn't",
        "stitch shell \"shell\": 5 dc in next\n\
         piece Mat, in rows\n\
         lead ch 3 as dc\n\
         start ch 15\n\
         row 1: dc in 4th ch from hook, dc to end = 13\n\
         row 2: [skip 2, shell, skip 2, dc] 2 times = 13 dc\n",
    ),
    (
        "groups between the stitches of a row, up to the last four of them",
        "piece Mat, in rows\n\
         lead ch 3 as dc\n\
         start ch 22\n\
         row 1: dc in 4th ch from hook, dc to end = 20\n\
         row 2: [skip 2, 3 dc in next gap] to last 4, skip 3, dc = 17\n",
    ),
    (
        "a square that is turned after each round: its last space is the first one of the way back",
        "piece Square, in joined rounds, turned\n\
         lead ch 3 as dc\n\
         start ring\n\
         rnd 1: 2 dc in ring, [ch 1, 3 dc in ring] 3 times, ch 1 = 12 dc + 4 ch-1 sp\n\
         rnd 2: move to next ch-1 sp, (2 dc, ch 1, 3 dc) in same, [ch 1, (3 dc, ch 1, 3 dc) in next ch-1 sp] 3 times, ch 1 = 24 dc + 8 ch-1 sp\n\
         rnd 3: move to next ch-1 sp, 2 dc in same, ch 1, [(3 dc, ch 1, 3 dc) in next ch-1 sp, ch 1, 3 dc in next ch-1 sp, ch 1] 3 times, (3 dc, ch 1, 3 dc) in next ch-1 sp, ch 1 = 36 dc\n",
    ),
    (
        "a shell in the space of a shell: the other stitches of the last one go with its space",
        "stitch shell \"shell\": (2 dc, ch 1, 2 dc) in next ch-1 sp\n\
         piece Lace, in rows\n\
         lead ch 3\n\
         start ch 15\n\
         row 1: (2 dc, ch 1, 2 dc) in 7th ch from hook, skip 3, (2 dc, ch 1, 2 dc) in next, skip 4\n\
         row 2: shell 2 = 2 shell\n\
         row 3: shell to end = 2 shell\n",
    ),
    (
        "a repeat that stops at its stars, with the skip behind them",
        "piece Doily, in joined rounds\n\
         lead ch 1\n\
         start ring\n\
         rnd 1: [sc in ring, ch 2] 8 times = 8 sc + 8 ch-2 sp\n\
         rnd 2: [dc in next sc, ch 2, skip next ch-2 sp] 8 times = 8 dc + 8 ch-2 sp\n\
         rnd 3: dc in next dc, [ch 2, ** skip next ch-2 sp, dc in next dc] to end = 8 dc + 8 ch-2 sp\n",
    ),
    (
        "an ear that is sewn down by a few of its stitches only",
        "piece Body, in joined rounds\n\
         lead ch 1\n\
         start ring\n\
         rnd 1: 30 sc in ring = 30\n\
         piece Ear, in joined rounds\n\
         lead ch 1\n\
         start ring\n\
         rnd 1: 14 sc in ring = 14\n\
         sew Ear to Body over 5\n",
    ),
    (
        "posts of the piece below, in the first row on top of it",
        "piece Band, in rows\n\
         lead ch 2\n\
         start ch 13\n\
         row 1: dc in 3rd ch from hook, dc to end = 11\n\
         row 2: dc to end\n\
         piece Leg, in rows\n\
         lead ch 2\n\
         start top of Band\n\
         row 1: dc, fpdc 2 rows below, dc to end = 11\n",
    ),
    (
        "the last place, when what is before it is used or skipped",
        "piece Mat, in rows\n\
         lead ch 1\n\
         start ch 22\n\
         row 1: sc in 2nd ch from hook, sc to end = 21\n\
         row 2: 2 sc in next, sc 19, 2 sc in last = 23\n\
         row 3: sc 21, skip 1, 2 sc in last = 23\n",
    ),
    (
        "a lead that is worked into is the last place",
        "piece Mat, in rows\n\
         lead ch 3 as dc\n\
         start ch 12\n\
         row 1: dc in 4th ch from hook, dc to end = 10\n\
         row 2: dc to last 1, dc in lead = 10\n",
    ),
    (
        "one in each of two skipped places, and two in the only one",
        "piece Mat, in rows\n\
         lead ch 2\n\
         start ch 13\n\
         row 1: dc in 3rd ch from hook, dc to end = 11\n\
         row 2: dc, [skip 2, fptr 2, fptr in skipped, fptr in skipped] 2 times, dc 2 = 11\n\
         row 3: dc, [skip 1, dc, 2 dc in skipped] 5 times = 16\n",
    ),
    (
        "an edge for two pieces, a part for each",
        "piece Body, in rows\n\
         lead ch 1\n\
         start ch 11\n\
         row 1: sc in 2nd ch from hook, sc to end = 10\n\
         piece Left, in rows\n\
         lead ch 1\n\
         start first 5 of top of Body\n\
         row 1: sc to end = 5\n\
         piece Right, in rows, mirror of Left\n",
    ),
    (
        "the same stitches once more, where it is said",
        "piece Body, in rows\n\
         lead ch 1\n\
         start ch 11\n\
         row 1: sc in 2nd ch from hook, sc to end = 10\n\
         piece Lining, in rows\n\
         lead ch 1\n\
         start top of Body\n\
         row 1: blo sc to end = 10\n\
         piece Edging, in rows\n\
         lead ch 1\n\
         start again top of Body\n\
         row 1: flo sc to end = 10\n",
    ),
    (
        "two edgings for the two sides of a piece in rows",
        "piece Body, in rows\n\
         lead ch 1\n\
         start ch 11\n\
         row 1: sc in 2nd ch from hook, sc to end = 10\n\
         rows 2-5: sc to end = 10\n\
         piece Edging, in rows, make 2\n\
         lead ch 1\n\
         start edge of Body\n\
         row 1: sc to end = 5\n",
    ),
    (
        "two bodies, and a sleeve on each",
        "piece Body, in rows, make 2\n\
         lead ch 1\n\
         start ch 11\n\
         row 1: sc in 2nd ch from hook, sc to end = 10\n\
         piece Sleeve, in rows, make 2\n\
         lead ch 1\n\
         start top of Body\n\
         row 1: sc to end = 10\n",
    ),
    (
        "all the way round a piece in rounds is its last round",
        "piece Square, in joined rounds\n\
         lead ch 1\n\
         start ring\n\
         rnd 1: 12 sc in ring = 12\n\
         piece Edging, in joined rounds\n\
         lead ch 1\n\
         start around Square\n\
         rnd 1: sc to end = 12\n",
    ),
    (
        "a join for each stitch of an edge",
        "piece Body, in rows\n\
         lead ch 1\n\
         start ch 11\n\
         row 1: sc in 2nd ch from hook, sc to end = 10\n\
         piece Strip, in rows\n\
         lead ch 1\n\
         start ch 5\n\
         row 1: sc in 2nd ch from hook, sc to end = 4\n\
         rows 2-11: sc to end, join to Body in st = 4\n",
    ),
    (
        "a motif that is joined to another in two of its four spaces",
        "piece Shell, in joined rounds\n\
         lead ch 1\n\
         start ring\n\
         rnd 1: [sc in ring, ch 5] 4 times = 4 sc\n\
         piece Star, in joined rounds\n\
         lead ch 1\n\
         start ring\n\
         rnd 1: [sc in ring, ch 2, join to Shell in ch-5 sp, ch 2] 2 times, [sc in ring, ch 5] 2 times = 4 sc\n",
    ),
    (
        "both halves of a row, seamed to each other",
        "piece Hood, in rows\n\
         lead ch 1\n\
         start ch 11\n\
         row 1: sc in 2nd ch from hook, sc to end = 10\n\
         seam first 5 to last 5\n",
    ),
    (
        "what is left behind the last space, where it is said",
        "piece Lace, in rows\n\
         lead ch 1\n\
         start ch 13\n\
         row 1: sc in 2nd ch from hook, sc, [ch 1, skip 1, sc 2] 3 times, sc = 9 sc + 3 ch-1 sp\n\
         row 2: sc, [ch 1, 2 dc in next ch-1 sp] to last 2, leave 2 = 7 sts + 3 ch-1 sp\n",
    ),
    (
        "rows for one size only, numbered in it",
        "sizes small / large\n\
         piece Mat, in rows\n\
         lead ch 1\n\
         start ch 11\n\
         row 1: sc in 2nd ch from hook, sc to end = 10\n\
         row 2: sc to end\n\
         only large: row 3: sc to end\n\
         only large: row 4: sc to end = 0 / 10\n\
         row: hdc to end = 10\n",
    ),
    (
        "a row said again in its own piece makes what it makes there",
        "piece Mat, in rows\n\
         lead ch 1\n\
         start ch 11\n\
         row 1: sc in 2nd ch from hook, sc to end = 10\n\
         row 2: 2 sc in next, sc to end = 11\n\
         row 3: as row 2 = 12\n",
    ),
    (
        "a row worked again once",
        "piece Mat, in rows\n\
         lead ch 1\n\
         start ch 11\n\
         row 1: sc in 2nd ch from hook, sc to end = 10\n\
         row 2: inc, sc to end = 11\n\
         again row 2, once = 12\n",
    ),
    (
        "full words for stitches",
        "piece Ball, in a spiral\n\
         start ring\n\
         rnd 1: 6 single crochet in ring = 6\n\
         rnd 2: [single crochet, 2 single crochet in next] to end = 9\n",
    ),
    (
        "a decrease by its trade name",
        "piece Ball, in a spiral\n\
         start ring\n\
         rnd 1: 12 sc in ring = 12\n\
         rnd 2: [sc, inv dec] 4 times = 8\n",
    ),
    (
        "a hook and a row's end in words and numbers of the trade",
        "hook steel 7\n\
         note Use a #7 hook.\n\
         set cuff = 3\n\
         piece Cuff, in rows\n\
         lead ch 1\n\
         start ch 11\n\
         row 1: sc in 2nd ch from hook, sc to end = 10\n\
         rows 2-3: sc to end = 10\n\
         seam row 1 to row {cuff}\n",
    ),
    (
        "arches that end in a slip stitch go over the whole row",
        "piece Mat, in rows\n\
         lead ch 3 as dc\n\
         start ch 12\n\
         row 1: dc in 4th ch from hook, dc to end = 10\n\
         row 2: [ch 4, sl st in next dc] to end = 9 ch-4 sp\n",
    ),
    (
        "a line for one size is not worked again in the others",
        "sizes small / large\n\
         piece Mat, in rows\n\
         lead ch 1\n\
         start ch 11\n\
         row 1: sc in 2nd ch from hook, sc to end = 10\n\
         row 2: sc to end\n\
         only large: row 3: inc, sc to end\n\
         again rows 2-3, 2 times = 10 / 13\n",
    ),
    (
        "rows of an earlier piece, each size its own",
        "sizes small / large\n\
         piece Left, in rows\n\
         lead ch 1\n\
         start ch 11\n\
         row 1: sc in 2nd ch from hook, sc to end = 10\n\
         only large: row: 2 sc in next, sc to end = 0 / 11\n\
         row: sc to end\n\
         row: hdc to end\n\
         piece Right, in rows\n\
         lead ch 1\n\
         start ch 11\n\
         rows 1-3: as rows 1-3 of Left = 10 / 11\n",
    ),
    (
        "tall stitches in a spiral, which has no chain at its beginning",
        "gauge 17 sts x 19 rows in sc = 10 cm\n\
         piece Ball, in a spiral\n\
         start ring\n\
         rnd 1: 12 dc in ring = 12\n\
         rnd 2: dc to end = 12\n",
    ),
    (
        "a chain and tall stitches behind a short lead",
        "piece Net, in rows\n\
         lead ch 1\n\
         start ch 14\n\
         row 1: sc in 2nd ch from hook, sc to end = 13\n\
         row 2: sc, [ch 3, skip 1, tr] to end = 7 sts + 6 ch-3 sp\n",
    ),
    (
        "a lead of one chain before double crochet",
        "piece Mat, in rows\n\
         lead ch 1\n\
         start ch 12\n\
         row 1: dc in 2nd ch from hook, dc to end = 11\n\
         row 2: dc to end = 11\n",
    ),
    (
        "words that only look like a hook, a row, a ribbon or buttons",
        "piece Mat, in rows\n\
         lead ch 1\n\
         start ch 11\n\
         row 1: sc in 2nd ch from hook, sc to end = 10\n\
         > With H hook, fold the ribbon-like band up to row 40 cm from its edge. No buttons needed.\n",
    ),
    (
        "a post three rows below, over a space in the row between",
        "piece Mat, in rows\n\
         lead ch 3 as dc\n\
         start ch 12\n\
         row 1: dc in 4th ch from hook, dc to end = 10\n\
         row 2: dc 2, ch 2, skip 2, dc to end\n\
         row 3: dc to next ch-2 sp, ch 2, skip next ch-2 sp, dc to end\n\
         row 4: dc 2, dc 3 rows below in next, dc to end = 10 sts\n",
    ),
    (
        "the line above again, without its number, in two sizes",
        "sizes small / large\n\
         piece Strip, in rows\n\
         lead ch 1\n\
         start ch 11\n\
         row 1: sc in 2nd ch from hook, sc to end = 10\n\
         row 2: 2 sc in next, sc to end = 11\n\
         again, 2 / 3 times = 13 / 14\n\
         row: sc to end\n\
         row: 2 sc in next, sc to end\n\
         again last 2 rows, twice = 16 / 17\n",
    ),
    (
        "a cable that goes back in front of what was made since, and one that goes behind it",
        "piece Band, in joined rounds\n\
         lead ch 2\n\
         start 24 fdc\n\
         rnd 1: [fpdc 4, bpdc 2] to end\n\
         rnd 2: [skip 2, fptr 2, fptr in 2 skipped in front, bpdc 2] to end\n\
         rnd 3: [skip 3, fptr, bpdc in 2 skipped behind, fptr in skipped in front, bpdc 2] to end = 24\n",
    ),
    (
        "numbers in the words for the maker, and words for one size",
        "sizes small / large\n\
         set rim = 4 / 6\n\
         piece Mat, in rows\n\
         lead ch 1\n\
         start ch 11\n\
         row 1: sc in 2nd ch from hook, sc to end = 10\n\
         > Fold over {rim / 2} rows.\n\
         only large: > Sew on the strap.\n",
    ),
    (
        "a repeat to the end that begins in the space to which the row has moved",
        "piece Net, in rows\n\
         lead ch 1\n\
         start ch 10\n\
         row 1: sc in 2nd ch from hook, [ch 3, skip 1, sc] to end = 5 sc + 4 ch-3 sp\n\
         row 2: move to next ch-3 sp, [ch 3, 2 dc in same, sl st in next ch-3 sp] to end, leave 1 = 9\n",
    ),
    (
        "the same in a round, where the last repeat is not worked in a space",
        "piece Net, in joined rounds\n\
         lead ch 1\n\
         start ring\n\
         rnd 1: 12 sc in ring = 12\n\
         rnd 2: [sc, ch 3, skip 1] to end = 6 sc + 6 ch-3 sp\n\
         rnd 3: move to next ch-3 sp, [2 sc in same, ch 2, sc in next ch-3 sp] to end = 15\n",
    ),
    (
        "yarn joined between two stitches, and a repeat that begins there",
        "yarn B\n\
         piece Mat, in joined rounds\n\
         with B\n\
         lead ch 1\n\
         start ring\n\
         rnd 1: 8 sc in ring = 8\n\
         fasten off\n\
         rnd 2: rejoin A in next gap, [sc in next gap, ch 1, skip 1] to end = 4\n",
    ),
    (
        "into a chain of a loop after a stitch in that loop, and on along its chains",
        "piece Net, in joined rounds\n\
         lead ch 1\n\
         start ring\n\
         rnd 1: 12 sc in ring = 12\n\
         rnd 2: [sc, ch 7, skip 2] to end = 4 sc + 4 ch-7 sp\n\
         rnd 3: [sc in next sc, 3 sc in next ch-7 sp, ch 3, hdc in 1st ch of same sp, hdc in next ch, hdc in 7th ch of same sp, \
           ch 3] to end = 16 sc + 12 hdc\n",
    ),
    (
        "rounds of another piece said again in the yarn that it changes to",
        "yarn B\n\
         piece First, in a spiral\n\
         with A\n\
         start ring\n\
         rnd 1: 6 sc in ring = 6\n\
         rnd 2: inc to end = 12\n\
         change to B\n\
         rnd 3: sc to end = 12\n\
         piece Second, in a spiral\n\
         with B\n\
         start ring\n\
         rnds 1-3: as rnds 1-3 of First\n",
    ),
    (
        "rows done again that each join their own yarn",
        "yarn B\n\
         yarn C\n\
         piece Mat, in rows from one side\n\
         with A\n\
         start 10 fsc\n\
         row 1: sc to end = 10\n\
         fasten off\n\
         row 2: rejoin B in first, sc to end = 10\n\
         fasten off\n\
         row 3: rejoin A in first, sc to end = 10\n\
         fasten off\n\
         row 4: rejoin C in first, sc to end = 10\n\
         fasten off\n\
         again rows 2-3, 3 times\n",
    ),
    (
        "V-stitches in V-stitches",
        "piece Shawl, in rows\n\
         lead ch 3\n\
         start ch 10\n\
         row 1: sc in 2nd ch from hook, sc to end = 9\n\
         row 2: [skip 1, vst, skip 1] to end = 3 vst\n\
         row 3: [vst in next ch-1 sp] 3 times = 3 vst\n",
    ),
    (
        "a piece that begins as another one up to a row behind a length, by the number before that row",
        "gauge 10 sts x 10 rows in sc = 10 cm\n\
         piece Back, in rows\n\
         lead ch 1\n\
         start ch 11\n\
         row 1: sc in 2nd ch from hook, sc to end = 10\n\
         row 2: sc to end = 10\n\
         again until 10 cm\n\
         row 11: sc to last 2, leave 2 = 8\n\
         row: sc to end = 8\n\
         piece Front, in rows, as Back to row 11\n\
         row: sc to end = 8\n",
    ),
    (
        "joins to spaces that are named, and to one that is free",
        "piece Star, in joined rounds\n\
         lead ch 1\n\
         start ring\n\
         rnd 1: [sc in ring, ch 5] 4 times = 4 sc + 4 ch-5 sp\n\
         piece Other Star, in joined rounds\n\
         lead ch 1\n\
         start ring\n\
         rnd 1: sc in ring, ch 2, join to Star in 2nd ch-5 sp, ch 2, sc in ring, ch 2, join to Star in ch-5 sp, ch 2, \
           [sc in ring, ch 5] 2 times = 4 sc\n",
    ),
    (
        "short rows at the nape: out from the middle of the back, and back past the beginning of the round",
        "piece Yoke, in joined rounds\n\
         lead ch 1\n\
         start ch 32 joined\n\
         rnd 1: sc to end = 32\n\
         row 2: sc 9, turn = 9\n\
         row 3: sc 18, turn = 18\n\
         row 4: sc 22, turn = 22\n\
         row 5: sc 26, turn = 26\n\
         rnd 6: sc to end = 32\n\
         rnd 7: sc to end = 32\n",
    ),
    (
        "the same in a spiral",
        "piece Yoke, in a spiral\n\
         start ch 32 joined\n\
         rnd 1: sc to end = 32\n\
         row 2: sc 9, turn = 9\n\
         row 3: sc 18, turn = 18\n\
         rnd 4: sc to end = 32\n",
    ),
    (
        "a row that ends with the chain which the next one goes back along",
        "piece Stair, in rows\n\
         lead ch 1\n\
         start ch 11\n\
         row 1: sc in 2nd ch from hook, sc to end, ch 6 = 10\n\
         row 2: sc in 2nd ch from hook, sc in next 4 ch, sc to end = 15\n\
         row 3: sc to end = 15\n",
    ),
    (
        "and one whose chain counts",
        "piece Stair, in rows\n\
         lead ch 3 as dc\n\
         start ch 12\n\
         row 1: dc in 4th ch from hook, dc to end, ch 6 = 10\n\
         row 2: dc in 4th ch from hook, dc in next 2 ch, dc to end = 14\n",
    ),
    (
        "picots closed on the stitch just made, which the next round goes past and the one after that is joined in",
        "piece Sun, in joined rounds\n\
         lead ch 1\n\
         start ring\n\
         rnd 1: 8 sc in ring = 8\n\
         rnd 2: [sc, ch 5, sl st in sc just made, sc] to end = 8 sc + 4 ch-5 sp\n\
         rnd 3: [2 sc in next ch-5 sp, ch 3] 4 times = 8\n",
    ),
    (
        "three loops on one stitch are three spaces",
        "piece Clover, in rows\n\
         lead ch 1\n\
         start ch 6\n\
         row 1: sc in 2nd ch from hook, sc 2, mark stem, ch 4, sl st in stem, ch 4, sl st in stem, ch 4, sl st in stem, sc 2 \
         = 5 sc + 3 ch-4 sp\n",
    ),
    (
        "a fan that lies on the stitch just made",
        "piece Edge, in rows\n\
         lead ch 1\n\
         start ch 14\n\
         row 1: sc in 2nd ch from hook, sc to end = 13\n\
         row 2: [sc, ch 3, 3 dc in sc just made, skip 3] 3 times, sc = 4 sc + 9 dc + 3 ch-3 sp\n",
    ),
    (
        "the two legs of one piece sewn to each other between the places that the body goes along",
        "piece Leg, in a spiral, make 2\n\
         start ring\n\
         rnd 1: 6 sc in ring = 6\n\
         rnd 2: inc to end = 12\n\
         fasten off\n\
         piece Body, in a spiral\n\
         start first 9 of top of Leg + last 9 of top of Leg\n\
         rnd 1: sc to end = 18\n\
         fasten off\n\
         seam last 3 of top of Leg to first 3 of top of Leg\n",
    ),
    (
        "a shell that is skipped by its space at the end of a row is skipped as a whole",
        "piece Edge, in rows\n\
         lead ch 3\n\
         start ch 80\n\
         row 1: (dc, ch 3, dc) in 4th ch from hook, [skip 3, (dc, ch 3, dc) in next] 19 times = 40 dc + 20 ch-3 sp\n\
         row 2: [5 dc in next ch-3 sp, ch 5, skip next ch-3 sp] to end = 50\n",
    ),
    (
        "a round that begins in the first space and ends in the stitch of the join",
        "piece Mat, in joined rounds\n\
         lead ch 1\n\
         start ch 24 joined\n\
         rnd 1: [sc, ch 1, skip 1] to end = 12 sc + 12 ch-1 sp\n\
         rnd 2: [sc in next ch-1 sp, sc in next sc] to end = 24\n",
    ),
    (
        "a Tunisian strip that is bound off in single crochet",
        "piece Strip, in Tunisian rows\n\
         start ch 12\n\
         row 1: tss in 2nd ch from hook, tss to end = 12\n\
         row 2: tss to end = 12\n\
         row 3: sc to end = 12\n",
    ),
    (
        "slip stitches into the first loop of a net, which is worked into like the others",
        "piece Net, in joined rounds\n\
         lead ch 1\n\
         start ch 24 joined\n\
         rnd 1: [sc, ch 5, skip 3] to end = 6 sc + 6 ch-5 sp\n\
         rnd 2: move 3, sc in same, [ch 5, sc in next ch-5 sp] to end, ch 5 = 6 sc + 6 ch-5 sp\n",
    ),
    // What short rounds leave waiting is the round's, though rounds are turned (geometry: the stitches of a round lie in a circle).
    (
        "a turned round after short ones goes all the way round",
        "piece Cup, in joined rounds, turned\nlead ch 1\nstart ring\nrnd 1: 8 sc in ring = 8\nrnd 2: sc 4, turn\nrnd 3: sc 2, turn\nrnd 4: \
         sc to end = 8\nrnd 5: sc to end = 8\nfasten off",
    ),
    (
        "a turned round that goes back over a short one, and on past the join",
        "piece Cup, in joined rounds, turned\nlead ch 1\nstart ring\nrnd 1: 8 sc in ring = 8\nrnd 2: sc 4, turn\nrnd 3: sc to end = 8\n\
         fasten off",
    ),
    (
        "a stitch that is skipped has both loops free",
        "piece Head, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\nrnd 2: inc 6 = 12\nrnd 3: [flo sl st, skip 1, flo sl st] 4 times\n\
         fasten off\npiece Base, in a spiral\nstart back loops of rnd 2 of Head\nrnd 1: sc to end = 12\nfasten off",
    ),
    // Common practice of granny groups in rows, no source: the first gap lies behind the chain that counts.
    (
        "groups between groups, in rows",
        "piece Wrap, in rows\nlead ch 3 as dc\nstart ch 16\nrow 1: dc in 4th ch from hook, dc to end = 14\nrow 2: [skip 1, 3 dc in next, \
         skip 1] 4 times, dc = 14\nrow 3: dc in first gap, [skip 2, 3 dc in next gap] 3 times, skip 2, dc in next gap, dc = 13\nfasten off",
    ),
    // Which side of a piece is its right one is the designer's choice.
    (
        "the second row is a right-side one",
        "piece Flag, in rows\nlead ch 1\nstart ch 5\nrow 1: sc in 2nd ch from hook, sc 3 = 4\nrow 2 rs: 3 sc in next, sc, sc2tog = 5\n\
         row 3: sc to end\nrow 4 rs: sc to end = 5\nfasten off",
    ),
    (
        "squares of filet go round and end with the chain that the round begins with",
        "grid Pier, filet\n\
         legend . = open, x = filled\n\
         |x..x|\n\
         |.xx.|\n\
         piece Cuff, in joined rounds\n\
         lead ch 3 as dc\n\
         start ch 24 joined\n\
         rnd 1: dc to end = 24\n\
         rnds 2-3: grid Pier to end = 16 dc + 4 ch-2 sp\n",
    ),
    (
        "a rib goes on though its row is worked from both sides",
        "piece Cuff, in rows\n\
         lead ch 2\n\
         start ch 14\n\
         row 1: dc in 3rd ch from hook, dc to end = 12\n\
         row 2: dc, [fpdc, bpdc] to last 1, dc = 12\n\
         again row 2, 4 times = 12\n",
    ),
    (
        "rows of front posts alone are ridges on both sides",
        "piece Cuff, in rows\n\
         lead ch 2\n\
         start ch 14\n\
         row 1: dc in 3rd ch from hook, dc to end = 12\n\
         row 2: fpdc to end = 12\n\
         again row 2, 4 times = 12\n",
    ),
    (
        "posts of a grid are worked as they are drawn from either side",
        "grid Ropes, in dc\n\
         legend . = dc, o = fpdc\n\
         |.o.|\n\
         |.o.|\n\
         |.o.|\n\
         piece Cuff, in rows\n\
         lead ch 2\n\
         start ch 8\n\
         row 1: dc in 3rd ch from hook, dc to end = 6\n\
         rows 2-4: grid Ropes to end = 6\n",
    ),
    (
        "reverse stitches go back round, and a row of them ends with slip stitches",
        "piece Mat, in joined rounds\n\
         lead ch 1\n\
         start ring\n\
         rnd 1: 12 sc in ring = 12\n\
         rnd 2: [sc, ch 1, skip 1] to end = 6 sc + 6 ch-1 sp\n\
         rnd 3: [rsc in next sc, 2 rsc in next ch-1 sp] to end = 18\n\
         fasten off\n\
         piece Strip, in rows\n\
         lead ch 1\n\
         start ch 13\n\
         row 1: sc in 2nd ch from hook, sc to end = 12\n\
         row 2: rsc to last 2, sl st 2 = 12\n",
    ),
    (
        "a mirror image in rounds begins with the wrong side facing and says its counts by the other posts",
        "piece Left Cuff, in joined rounds\n\
         lead ch 2\n\
         start ch 12 joined\n\
         rnd 1: dc to end = 12\n\
         rnd 2: fpdc 3, dc to end = 3 fpdc + 9 dc\n\
         again rnd 2, 2 times = 3 fpdc + 9 dc\n\
         fasten off\n\
         piece Right Cuff, in joined rounds, mirror of Left Cuff\n",
    ),
    (
        "what one piece is sewn to, its mirror image is sewn to at the other edge",
        "piece Back, in rows\n\
         lead ch 1\n\
         start ch 13\n\
         row 1: sc in 2nd ch from hook, sc to end = 12\n\
         rows 2-6: sc to end\n\
         fasten off\n\
         piece Left Front, in rows\n\
         lead ch 1\n\
         start ch 7\n\
         row 1: sc in 2nd ch from hook, sc to end = 6\n\
         rows 2-6: sc to end = 6\n\
         fasten off\n\
         seam left edge of Left Front to right edge of Back\n\
         piece Right Front, in rows, mirror of Left Front\n",
    ),
];

fn pattern(lines: &str) -> String {
    let (sizes, lines) = match lines.strip_prefix("sizes ").and_then(|rest| rest.split_once('\n')) {
        Some((sizes, lines)) => (format!("sizes {sizes}\n"), lines),
        None => (String::new(), lines),
    };
    format!("pattern Pier Work\nterms US\n{sizes}yarn A\n{lines}")
}

/// The text with its last stated number one larger.
fn one_more(text: &str) -> String {
    let (head, tail) = text.rsplit_once("= ").unwrap();
    let digits: String = tail.chars().take_while(char::is_ascii_digit).collect();
    let number: u32 = digits.parse().unwrap();
    format!("{head}= {}{}", number + 1, tail.trim_start_matches(|c: char| c.is_ascii_digit()))
}

#[test]
fn right_work_rings_true_without_a_word() {
    for (about, lines) in RIGHT {
        let text = pattern(lines);
        let findings = compile(&text).findings;
        assert!(findings.is_empty(), "{about}\n{text}\n{findings:#?}");
    }
}

#[test]
fn with_another_count_it_does_not() {
    for (about, lines) in RIGHT {
        let text = one_more(&pattern(lines));
        assert!(compile(&text).has_errors(), "{about}\n{text}");
    }
}

#[test]
fn the_page_goes_round_an_oval_and_back_along_a_turned_square() {
    let page = |about: &str| {
        let (_, lines) = RIGHT.iter().find(|(one, _)| one.starts_with(about)).unwrap();
        markdown(&compile(&pattern(lines)), &Edition::default())
    };
    let oval = page("an oval round a chain");
    let round = "3 sc in 2nd ch from hook, sc in next 27 ch, 3 sc in last ch, continue along the opposite side of the \
                 starting ch, sc in next 27 ch, join with sl st in first sc. — 60 sts";
    assert!(oval.contains(round), "{oval}");
    let square = page("a square that is turned");
    assert!(
        square.contains("**Rnd 2:** Sl st in each st to next ch-1 sp and in that sp, ch 3 (counts as dc)"),
        "{square}"
    );
}

#[test]
fn the_page_shows_words_as_they_are_meant() {
    let page = |about: &str| {
        let (_, lines) = RIGHT.iter().find(|(one, _)| one.starts_with(about)).unwrap();
        markdown(&compile(&pattern(lines)), &Edition::default())
    };
    assert!(page("numbers in the words").contains("Fold over 2 (3) rows."));
    let corners = page("squares that are joined at their corners");
    assert!(
        corners.contains("done: at both its corners work ch 1, sl st in the ch-3 sp across from it, ch 1"),
        "{corners}"
    );
    assert!(page("a hook and a row's end").contains("Use a \\#7 hook."));
}
