// Made of notation.pest by `RINGTRUE_RENEW=1 cargo test -p ringtrue-grammar`.
[
    ANYTHING, // EOI
    (0x100000000, false), // WHITESPACE
    (0x7fffffe07fffffe03ff208000000000, true), // inside
    (0x7fffffe07fffffe0000000000000000, true), // word
    (0x3ff000000000000, false), // number
    (0x3ff000000000000, false), // decimal
    (0x3ff000000000000, false), // ordinal
    (0x8400000000, true), // quoted
    ANYTHING, // quoted_text
    ANYTHING, // quoted_single
    (0x8000000000, true), // quote_end
    (0x200000000000, true), // dash
    (0x100000000000, false), // comma
    (0x400000000000000, false), // colon
    (0x2000000000000000, false), // equals
    (0x80000000000, false), // plus
    (0x80000000000000003ff000000000000, false), // amount
    (0x80000000000000003ff000000000000, false), // term
    ANYTHING, // gap_slip
    (0x7fffffe07fffffe03ff010000000000, true), // sum
    (0x7fffffe07fffffe03ff010000000000, true), // product
    (0x7fffffe07fffffe03ff010000000000, true), // factor
    (0x280000000000, true), // sign_low
    (0x840000000000, true), // sign_high
    (0x7fffffe07fffffe0000000000000000, true), // set_name
    (0x2000000020000000000000000, false), // k_again
    (0x2000000020000000000000000, false), // k_aside
    (0x2000000020000000000000000, false), // k_and
    (0x2000000020000000000000000, false), // k_as
    (0x4000000040000000000000000, false), // k_because
    (0x4000000040000000000000000, false), // k_behind
    (0x2000000020000000000000000, false), // k_at
    (0x4000000040000000000000000, false), // k_back
    (0x4000000040000000000000000, false), // k_below
    (0x8000000080000000000000000, false), // k_ch
    (0x8000000080000000000000000, false), // k_chain
    (0x8000000080000000000000000, false), // k_chains
    (0x8000000080000000000000000, false), // k_change
    (0x8000000080000000000000000, false), // k_close
    (0x8000000080000000000000000, false), // k_corner
    (0x20000000200000000000000000, false), // k_each
    (0x20000000200000000000000000, false), // k_edge
    (0x20000000200000000000000000, false), // k_end
    (0x20000000200000000000000000, false), // k_evenly
    (0x40000000400000000000000000, false), // k_fasten
    (0x40000000400000000000000000, false), // k_first
    (0x40000000400000000000000000, false), // k_fo
    (0x40000000400000000000000000, false), // k_from
    (0x40000000400000000000000000, false), // k_front
    (0x20000000200000000000000000, false), // k_ends
    (0x40000000400000000000000000, false), // k_fro
    (0x80000000800000000000000000, false), // k_gap
    (0x400000004000000000000000000, false), // k_just
    (0x2000000020000000000000000000, false), // k_made
    (0x100000001000000000000000000, false), // k_hook
    (0x200000002000000000000000000, false), // k_in
    (0x400000004000000000000000000, false), // k_joined
    (0x1000000010000000000000000000, false), // k_last
    (0x1000000010000000000000000000, false), // k_left
    (0x1000000010000000000000000000, false), // k_lead
    (0x1000000010000000000000000000, false), // k_leave
    (0x2000000020000000000000000000, false), // k_make
    (0x2000000020000000000000000000, false), // k_makes
    (0x2000000020000000000000000000, false), // k_mark
    (0x2000000020000000000000000000, false), // k_middle
    (0x2000000020000000000000000000, false), // k_mirror
    (0x2000000020000000000000000000, false), // k_more
    (0x2000000020000000000000000000, false), // k_move
    (0x4000000040000000000000000000, false), // k_next
    (0x4000000040000000000000000000, false), // k_no
    (0x4000000040000000000000000000, false), // k_none
    (0x8000000080000000000000000000, false), // k_of
    (0x8000000080000000000000000000, false), // k_off
    (0x8000000080000000000000000000, false), // k_on
    (0x8000000080000000000000000000, false), // k_other
    (0x8000000080000000000000000000, false), // k_over
    (0x10000000100000000000000000000, false), // k_place
    (0x40000000400000000000000000000, false), // k_rejoin
    (0x40000000400000000000000000000, false), // k_rep
    (0x40000000400000000000000000000, false), // k_rest
    (0x40000000400000000000000000000, false), // k_right
    (0x40000000400000000000000000000, false), // k_ring
    (0x40000000400000000000000000000, false), // k_rnd
    (0x40000000400000000000000000000, false), // k_row
    (0x40000000400000000000000000000, false), // k_rs
    (0x80000000800000000000000000000, false), // k_same
    (0x80000000800000000000000000000, false), // k_set
    (0x80000000800000000000000000000, false), // k_side
    (0x80000000800000000000000000000, false), // k_skip
    (0x80000000800000000000000000000, false), // k_skipped
    (0x80000000800000000000000000000, false), // k_sp
    (0x80000000800000000000000000000, false), // k_spiral
    (0x80000000800000000000000000000, false), // k_st
    (0x80000000800000000000000000000, false), // k_start
    (0x100000001000000000000000000000, false), // k_takes
    (0x100000001000000000000000000000, false), // k_the
    (0x100000001000000000000000000000, false), // k_through
    (0x100000001000000000000000000000, false), // k_times
    (0x108000001080000000000000000000, false), // k_to
    (0x100000001000000000000000000000, false), // k_together
    (0x100000001000000000000000000000, false), // k_top
    (0x100000001000000000000000000000, false), // k_turn
    (0x40000000400000000000000000, false), // k_flat
    (0x100000001000000000000000000000, false), // k_turned
    (0x100000001000000000000000000000, false), // k_turning
    (0x200000002000000000000000000000, false), // k_until
    (0x800000008000000000000000000000, false), // k_weight
    (0x800000008000000000000000000000, false), // k_with
    (0x800000008000000000000000000000, false), // k_ws
    (0x2000000020000000000000000, false), // k_around
    (0x2000000020000000000000000, false), // k_across
    (0x82000000820000000000000000000, false), // k_sk
    (0x8000000080000000000000000000, false), // k_once
    (0x100000001000000000000000000000, false), // k_twice
    (0x8000000080000000000000000000, false), // of_slip
    (0x400000004000000000000000000, false), // k_join
    (0x100000001000000000000000000000, false), // times_word_slip
    (0xbcf76e00bcf76e0000000100000000, false), // reserved
    (0x100000001000000000000000000000, false), // total_word
    (0x8000000080000000000000000, false), // tight_chain
    (0x8000000080000000000000000, false), // space_word
    (0x7fffffe07fffffe0000000100000000, true), // stitch
    (0x5f137c005f137c0000000000000000, false), // full_name
    (0x1f017c001f017c0000000000000000, false), // full_lead
    (0x100008001000080000000000000000, false), // full_head
    (0x2100000021003ff000000000000, false), // full_tail
    (0x200100000000, false), // full_gap
    (0x80000000800000000000000000000, false), // slip_stitch
    (0x7fffffe07fffffe0000000100000000, true), // stitch_word
    (0x7fffffe07fffffe0000000100000000, true), // mark_name
    (0x7fffffe07fffffe03ff000100000000, true), // yarn_name
    (0x7fffffe07fffffe03ff000100000000, true), // kind
    (0x8000000080000000000000000, false), // space
    (0x8000000080000000000000000, false), // any_space
    (0x80000000803ff000000000000, false), // space_slip
    (0x80000000800000000000000000000, false), // sp_slip
    (0x308002003080020000000000000000, false), // till
    (0x1000000010000000000000000000, false), // till_last
    (0x8000000080000000000000000, false), // last_of
    (0x80000000800000000000000000000, false), // last_one_slip
    (0x4000000040000000000000000000, false), // till_next
    (0x308002003080020000000000000000, false), // till_slip
    (0x93082020130820203ff000000000000, true), // where_to
    (0x200000002000000000000000000, false), // each_place
    (0x200000002000000000000000000, false), // each_of_slip
    (0x200000002000000000000000000, false), // in_skipped
    (0x204000002040000000000000000, false), // crossing
    (0x40000000400000000000000000, false), // k_in_front
    (0x200000002000000000000000000, false), // in_count
    (0x200000002000000000000000000, false), // in_place
    (0x80000000000000003ff000000000000, false), // count
    (0x80000000000000003ff000000000000, false), // count_place_slip
    (0x80000000000000003ff000000000000, false), // count_sts_slip
    (0x80000000800000000000000000000, false), // sts_slip
    (0x80000000000000003ff000000000000, false), // count_times_slip
    (0x7fffffe07fffffe03ff000100000000, true), // place
    (0x800080008000803ff000000000000, false), // bare_kind_slip
    (0x4000000040000000000000000000, false), // next_of
    (0x4000000040000000000000000000, false), // next_place
    (0x80000000800000000000000000000, false), // same
    (0xc2002000c20020000000000000000, false), // ring
    (0x40000000400000000000000000, false), // first
    (0x1000000010000000000000000000, false), // last
    (0x1000000010000000000000000000, false), // own_lead_top
    (0x3ff000000000000, false), // nth
    (0x3ff000000000000, false), // chain_of
    (0x8200000082000000000000000000, false), // of_space
    (0x80000000800000000000000000000, false), // skipped
    (0x4000000040000000000000000000, false), // next_gap
    (0x40000000400000000000000000, false), // first_gap
    (0x7fffffe07fffffe0000000100000000, true), // just_made
    (0x3ff000000000000, false), // from_hook
    (0x100000001000000000000000000000, false), // the_slip
    (0xffffffe0ffffffe03ff050100000000, true), // steps
    (0x800500000000000, false), // separator
    (0x800000000000000, false), // semicolon_slip
    (0x400000000000, false), // full_stop_slip
    (0xffffffe0ffffffe03ff050100000000, true), // step
    (0x7fffffe07fffffe0000000100000000, true), // colours
    (0xffffffe07fffffe03ff000100000000, true), // run
    (0x7fffffe07fffffe0000000100000000, true), // run_yarn
    (0x7fffffe07fffffe0000000100000000, true), // run_yarn_to
    (0x7fffffe07fffffe0000000100000000, true), // run_word
    ANYTHING, // run_end
    (0x1d0374001d03740000000100000000, false), // trade_stitch
    (0x80000000800000000000000000, false), // grid_step
    (0x83080020030800203ff000000000000, false), // grid_extent
    (0x7fffffe07fffffe0000000100000000, true), // grid_name
    (0x80000000800000000000000000, false), // k_grid
    (0xffffffe07fffffe03ff000100000000, true), // work
    (0x3ff000000000000, false), // tog_slip
    (0x80000000000000003ff000000000000, false), // each
    (0x44000000440000000000000000, false), // loop_only
    (0x100244001002440000000100000000, false), // loop_slip
    (0x4000000040000000000000000, false), // back_slip
    (0x40000000400000000000000000, false), // front_slip
    (0x4000000040000000000000000, false), // back_loop_slip
    (0x40000000400000000000000000, false), // front_loop_slip
    (0x1000000010000000000000000000, false), // k_loop
    (0x8000000080000000000000000000, false), // k_only
    (0x3ff000000000000, false), // below
    (0x80000000000000000000000, false), // repeat
    (0x80000000000000000000000, false), // open_square
    (0x200000000000000000000000, false), // close_square
    (0xffffffe0ffffffe03ff050100000000, true), // repeat_steps
    (0xffffffe0ffffffe03ff050100000000, true), // repeat_step
    (0x40000000000, false), // stop
    (0x8000000080000000000000000000, false), // arms
    (0x8000000080000000000000000000, false), // arm
    (0x10000000000, false), // round
    (0x10000000000, false), // open_round
    (0x20000000000, false), // close_round
    (0x93482020134820203ff040000000000, true), // round_end
    (0x100000001000000000000000000000, false), // together
    (0x108000001080000000000000000000, false), // to_and_fro
    (0x93480020134800203ff040000000000, true), // extent
    (0x80000000000000003ff000000000000, false), // times
    (0x80400000004000003ff000000000000, false), // more_slip
    (0x40000000400000000000000000000, false), // rep_till_slip
    (0x90000000100000003ff000000000000, true), // by_slip
    (0x1000000010000000000000000000000, true), // x_word
    (0x40000000000, false), // star_by_slip
    (0x108000001080000000000000000000, false), // word_times
    (0x80000000000000003ff000000000000, false), // bare_times_slip
    (0x40000000000, false), // star_slip
    (0xffffffe0ffffffe03ff050100000000, true), // star_steps
    (0xffffffe0ffffffe03ff050100000000, true), // star_step
    (0x40000000400000800140000000000, false), // star_link
    (0x40000000400000000000000000000, false), // rep_from
    (0x100000001000000000000000000000, false), // turning
    (0x8000000080000000000000000, false), // chain_as
    (0x8000000080000000000000000, false), // chain
    (0x82000000820000000000000000000, false), // skip
    (0xffffffe07fffffe03ff000100000000, true), // skip_what
    (0x80000000800000000000000000000, false), // set_aside
    (0x40000000400000000000000000000, false), // aside_rest
    (0x7fffffe07fffffe03ff000000000000, true), // opening_name
    (0x7fffffe07fffffe03ff000000000000, true), // opening_word
    (0x1000000010000000000000000000, false), // leave
    (0x2000000020000000000000000000, false), // move_along
    (0x100000001000000000000000000000, false), // turn
    (0x8000000080000000000000000000, false), // other_side
    (0x5000000050000000000000000000, false), // own_lead
    (0x4000000040000000000000000000, false), // no_lead
    (0x40080000400803ff000000000000, false), // lead_body
    (0x3ff000000000000, false), // turned_slip
    (0x2000000020000000000000000000, false), // mark
    (0x200000002000000000000000000, false), // go
    (0x8000000080000000000000000, false), // change
    (0x2000008020000080000000000000000, false), // yarn_slip
    (0x40000000400000000000000000, false), // fasten_off
    (0x40000000400000000000000000000, false), // rejoin
    (0x40000000400000000000000000000, false), // rep_slip
    (0x80400000804000000000000000000, false), // join_slip
    (0x80000000800000000000000000000, false), // slip_to_first
    (0x180110001801100000000000000000, false), // joined_stitch
    (0x8000000080000000000000000, false), // close
    (0x80000000000000003ff000000000000, false), // evenly
    (0x400000004000000000000000000, false), // join_to
    (0x105040001050400000000000000000, false), // joined_in_print
    (0x7fffffe07fffffe03ff00c100000000, true), // joined_name
    (0x7fffffe07fffffe03ff00c100000000, true), // joined_word
    (0x100000001000000000000000000000, false), // through
    (0x4000000040000000000000000, false), // behind
    ANYTHING, // label_line
    (0x3ff000000000000, false), // label_numbers
    (0x108002001080020000004000000000, false), // range_slip
    (0x840000008400000000010000000000, false), // side
    (0x2000620000000000, true), // label_end_slip
    ANYTHING, // work_line
    (0xc0000000c00000000000000000000, false), // as_slip
    (0x2000000020000000000000000, false), // as_line
    ANYTHING, // as_piece
    (0x800500000000000, false), // stray_slip
    (0x80000000000210000000000, true), // count_slip
    ANYTHING, // stated_line
    (0x800500000000000, false), // after_count_slip
    (0x80000000000000003ff000000000000, false), // stated_parts
    (0x80000000000000003ff000000000000, false), // stated_part
    (0x2000000020000184000000000, false), // stated_link
    (0x2000000020000104000000000, false), // plus_slip
    ANYTHING, // again_line
    (0x40000000400000000000000000000, false), // again_what
    (0x1000000010000000000000000000, false), // again_above
    (0x93480000134800003ff040000000000, true), // again_extent
    (0x200000002000000000000000000000, false), // until
    (0x40000000400000000000000000000, false), // until_line
    (0x80000000000000003ff000000000000, false), // until_stitches
    (0x3ff000000000000, false), // until_length
    (0x40000000400000000000000000, false), // length_from
    (0x40000000400000000000000000000, false), // from_line
    (0x3ff000000000000, false), // lengths
    (0x2208000022080000000000000000, false), // length_unit
    ANYTHING, // piece_line
    ANYTHING, // piece_name
    (0x100000000, false), // way_end
    (0x200000002000000000000000000, false), // way_only_slip
    (0x1c264a001c264a0000000100000000, false), // piece_part
    (0x100000001000000000000000000000, false), // turned
    (0x40000000400000000000000000, false), // lies_flat
    (0x200000002000000000000000000, false), // layout
    (0x1000004010000040000000000000000, true), // layout_by
    (0x400000004000000000000000000, false), // layout_joined
    (0x80000000800000000000000000000, false), // layout_sewn
    (0x8000000080000000000000000, false), // layout_corners
    (0x1000000010000000000000000000, false), // k_layout
    (0x80000000800000000000000000000, false), // k_sewn
    (0x8000000080000000000000000, false), // k_corners
    (0xc0602000c06020000000100000000, false), // way_word_slip
    (0x80000000800000000000000000000, false), // k_spirals
    (0x2000000020000000000000000000, false), // mirror
    ANYTHING, // mirror_name
    (0x2000000020000000000000000, false), // like
    ANYTHING, // like_name
    (0x100000000, false), // like_end
    (0x200000002000000000000000000, false), // way
    (0x200000002000000000000000000, false), // from_one_side
    (0x200000002000000000000000000, false), // in_tunisian_rows
    (0x100000001000000000000000000000, false), // k_tunisian
    (0x8000000080000000000000000000, false), // k_one
    (0x200000002000000000000000000, false), // in_rows
    (0x200000002000000000000000000, false), // in_joined_rounds
    (0x200000002000000000000000000, false), // in_a_spiral
    (0x2000000020000000000000000, false), // k_a
    (0x2000000020000000000000000000, false), // copies
    (0x200000002000000000000000000, false), // way_slip
    ANYTHING, // now_line
    (0x905010009050100000000000000000, false), // now_part
    (0x1000000010000000000000000000, false), // now_lead
    (0x800000008000000000000000000000, false), // without_turning
    (0x4010000040100000000000000000, false), // now_print_slip
    (0x800000008000000000000000000000, false), // k_without
    ANYTHING, // with_line
    ANYTHING, // using_line
    ANYTHING, // lead_line
    ANYTHING, // stripe_line
    (0x7fffffe07fffffe03ff000100000000, true), // stripe
    ANYTHING, // start_line
    (0x2000000020000000000000000, false), // start_again
    (0xc2002000c20020000000000000000, false), // start_ring
    (0x82002000820020000000000000000, false), // ring_slip
    (0x2000000020000000000000000000, false), // k_mr
    (0x8000000080000000000000000, false), // start_chain
    (0x80000000000000003ff000000000000, false), // start_foundation
    (0x80080000000800003ff000100000000, false), // start_thing
    (0x10100000101000000000000000000, false), // k_places
    ANYTHING, // thing_name
    (0x1cb06e001cb06e0000000000000000, false), // start_along
    (0x100000001000000000000000000000, false), // start_through
    (0x1cb06e001cb06e0000000000000000, false), // start_layer
    (0x1cb06e001cb06e0000000000000000, false), // start_part
    (0x3040000030400000000000000000, false), // part_of
    (0x3040000030400000000000000000, false), // inner_part
    (0x40000000400000000000000000000, false), // rest_part
    (0x1c906e001c906e0000000000000000, false), // start_whole
    (0x41000000410000000000000000000, false), // start_side
    (0x20000000200000000000000000, false), // start_edge
    (0x8000000080000000000000000000, false), // start_other
    (0x100000001000000000000000000000, false), // start_top
    (0x2000000020000000000000000, false), // start_around
    (0x44000000440000000000000000, false), // start_loops
    (0x40000000400000000000000000, false), // front_word
    (0x4000000040000000000000000, false), // back_word
    (0x80000000800000000000000000000, false), // start_held
    (0x8000000080000000000000000, false), // start_bridge
    (0x8000000080000000000000000, false), // new_chain
    (0x40000000400000000000000000, false), // rim_from
    (0x2000000020000000000000000000, false), // rim_middle
    (0x800000008000000000000000000000, false), // rim_corners
    ANYTHING, // start_name
    (0x100100000000, false), // start_stop
    (0x1cb06e001cb06e0000000000000000, false), // edge_words
    ANYTHING, // rest_of_line
    ANYTHING, // fasten_line
    ANYTHING, // gather_line
    ANYTHING, // seam_line
    (0x1cb06e001cb06e0000000000000000, false), // seam_edges
    (0x20000000200000000000000000, false), // easing
    (0x20000000200000000000000000, false), // k_easing
    (0x2000000020000000000000000, false), // to_slip
    (0xc1040000c10400000000000000000, false), // seam_side
    (0x40000000400000000000000000000, false), // seam_row
    (0x40000000400000000000000000, false), // seam_first
    (0x1000000010000000000000000000, false), // seam_last
    (0x80000000800000000000000000000, false), // seam_start
    ANYTHING, // sew_line
    (0x7fffffe07fffffe03ff00c100000000, true), // sewn_name
    (0x7fffffe07fffffe03ff00c100000000, true), // sewn_word
    ANYTHING, // pompon_line
    ANYTHING, // fringe_line
    ANYTHING, // cord_line
    (0x8000000080000000000000000, false), // cord_chain
    (0x200000002000000000000000000, false), // in_yarn
    ANYTHING, // place_line
    (0x7fffffe07fffffe03ff00c100000000, true), // placed_name
    (0x7fffffe07fffffe03ff00c100000000, true), // placed_on
    (0x7fffffe07fffffe03ff00c100000000, true), // placed_word
    (0x226000002260000000000000000, false), // spot_begin
    (0x226000002260000000000000000, false), // spot
    (0x4000000040000000000000000, false), // spot_between
    (0x20000000200000000000000000, false), // spot_evenly
    (0x202000002020000000000000000, false), // spot_rows
    (0x202000002020000000000000000, false), // spot_stitches
    (0x2000000020000100000000000, false), // spot_more
    (0x80000000000000003ff000000000000, false), // spot_apart
    (0x2000000020000000000000000, false), // k_apart
    ANYTHING, // surface_line
    (0x7fffffe07fffffe03ff00c100000000, true), // surface_on
    (0x7fffffe07fffffe03ff00c100000000, true), // surface_word
    (0x40000000400000000000000000, false), // surface_from
    (0x2000000020000000000000000, false), // k_along
    (0x4000000040000000000000000, false), // k_between
    (0x800000008000000000000000000000, false), // k_wraps
    (0x80000000800000000000000000000, false), // k_strands
    (0x40002000400020000000000000000, false), // k_round
    ANYTHING, // colours_line
    (0x8000000080000000000000000, false), // k_carried
    (0x80000000800000000000000000000, false), // k_stranded
    ANYTHING, // change_line
    ANYTHING, // meant_line
    (0x7fffffe07fffffe0000000100000000, true), // code_name
    ANYTHING, // reason
    ANYTHING, // counts_line
    ANYTHING, // set_line
    (0x7fffffe07fffffe03ff010000000000, true), // sum_slip
    ANYTHING, // hook_line
    (0x7fffffe07fffffe03ff000900000000, true), // steel_hook
    (0x3ff000000000000, false), // steel_number
    (0x110000000000, false), // steel_mm_slip
    (0x80000000800000000000000000000, false), // k_steel
    (0x84000000840000000000800000000, false), // hook_no
    (0x7fffffe07fffffe03ff000900000000, true), // hook_bare_slip
    (0x2000000020000000000000000000, false), // k_mm
    (0x3ff000000000000, false), // decimal_slip
    (0x10000000000, false), // hook_letter
    ANYTHING, // bracketed
    ANYTHING, // picture_line
    ANYTHING, // picture_file
    ANYTHING, // yarn_line
    ANYTHING, // yarn_part
    (0x800000008000000000000000000000, false), // weight
    (0x7fffffe07fffffe03ff000000000000, true), // weight_value
    (0x3ff000000000000, false), // ball
    (0x3ff000000000000, false), // measure
    (0x200a2880200a2880000000000000000, false), // measure_unit
    ANYTHING, // yarn_more
    ANYTHING, // gauge_line
    (0x1000006010000060000100000000000, true), // by_sign
    (0x6000000060000100000000000, false), // by_sign_slip
    ANYTHING, // gauge_stitch
    ANYTHING, // swatch_line
    (0x3ff000000000000, false), // measure_of_yarn
    (0x200a0800200a0800000000000000000, false), // unit_of_yarn
    ANYTHING, // finished_line
    (0x7fffffe07fffffe0000000000000000, true), // finished_what
    ANYTHING, // blocks_line
    ANYTHING, // grid_line
    (0x2248000022480000000000000000, false), // grid_part
    (0x2000000020000000000000000000, false), // overlay
    (0x2000000020000000000000000000, false), // inset
    (0x40000000400000000000000000, false), // filet
    (0x8000000080000000000000000, false), // corner_to_corner
    (0x200000002000000000000000000, false), // grid_stitch
    (0x2000000020000000000000000000, false), // k_mosaic
    (0x8000000080000000000000000000, false), // k_overlay
    (0x200000002000000000000000000, false), // k_inset
    (0x40000000400000000000000000, false), // k_filet
    ANYTHING, // legend_line
    ANYTHING, // legend_entry
    (0x7fffffe07fffffe03ff000100000000, true), // legend_what
    ANYTHING, // sign
    ANYTHING, // squares_line
    (0x10000000000000000000000000000000, false), // bar
    ANYTHING, // stitch_head
    ANYTHING, // unit_line
    ANYTHING, // steps_line
]
