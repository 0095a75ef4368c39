//! The names that the parts of the grammar have for a reader.

use super::grammar::Rule;

/// What a crocheter calls the thing that a rule reads; nothing for rules that are never named to a reader.
#[expect(clippy::too_many_lines, reason = "one line for each name, and no rule may be left out")]
pub(super) fn plain_name(rule: Rule) -> Option<&'static str> {
    let name = match rule {
        Rule::word => "a word",
        Rule::number | Rule::decimal | Rule::amount | Rule::term | Rule::till_last | Rule::count | Rule::lengths => {
            "a number"
        }
        Rule::ordinal => "a number such as `4th`",
        Rule::quoted | Rule::quoted_text => "words in quotation marks",
        Rule::dash => "`-` and the last number",
        Rule::comma => "a comma",
        Rule::colon => "a colon",
        Rule::equals => "`=`",
        Rule::plus => "`+`",
        Rule::sum | Rule::product => "a number or a name that `set` gives",
        Rule::sign_low => "`+` or `-`",
        Rule::sign_high => "`*` or `/`",
        Rule::set_name => "a name that `set` gives",
        Rule::in_skipped => "`in skipped`",
        Rule::crossing | Rule::k_in_front => "`in front` or `behind`",
        Rule::k_again => "`again`",
        Rule::placed_name => "what is placed",
        Rule::spot | Rule::spot_between | Rule::spot_evenly | Rule::spot_rows => {
            "where it goes, as `between rnds 12 and 13`"
        }
        Rule::spot_stitches => "`at st 9`",
        Rule::spot_apart => "`8 apart`",
        Rule::k_and => "`and`",
        Rule::k_apart => "`apart`",
        Rule::k_as => "`as`",
        Rule::k_at => "`at`",
        Rule::k_back => "`blo`",
        Rule::k_because => "`because`",
        Rule::k_behind => "`behind`",
        Rule::k_below => "`below`",
        Rule::k_between => "`between`",
        Rule::k_ch | Rule::cord_chain => "`ch`",
        Rule::k_chains => "`chains`",
        Rule::k_change => "`change`",
        Rule::k_close => "`close`",
        Rule::k_each => "`each`",
        Rule::k_edge => "`edge`",
        Rule::k_end => "`end`",
        Rule::k_ends => "`ends`",
        Rule::k_evenly => "`evenly`",
        Rule::k_fasten => "`fasten`",
        Rule::k_first => "`first`",
        Rule::k_from => "`from`",
        Rule::k_front => "`flo`",
        Rule::k_gap => "`gap`",
        Rule::k_hook => "`hook`",
        Rule::k_in => "`in`",
        Rule::k_join => "`join`",
        Rule::k_joined => "`joined`",
        Rule::k_just => "`just`",
        Rule::k_last => "`last`",
        Rule::k_lead => "`lead`",
        Rule::k_leave => "`leave`",
        Rule::k_made => "`made`",
        Rule::k_make => "`make`",
        Rule::k_makes => "`makes`",
        Rule::k_mark => "`mark`",
        Rule::k_mirror => "`mirror`",
        Rule::k_move => "`move`",
        Rule::k_next => "`next`",
        Rule::k_no => "`no`",
        Rule::k_none => "`none`",
        Rule::k_of => "`of`",
        Rule::k_one => "`one`",
        Rule::from_one_side => "`in rows from one side`",
        Rule::in_tunisian_rows => "`in Tunisian rows`",
        Rule::k_tunisian => "`Tunisian`",
        Rule::k_off => "`off`",
        Rule::k_on => "`on`",
        Rule::k_other => "`other`",
        Rule::k_over => "`over`",
        Rule::k_rejoin => "`rejoin`",
        Rule::k_rest => "`rest`",
        Rule::k_ring | Rule::start_ring => "`ring`",
        Rule::k_rs => "`rs`",
        Rule::k_same => "`same`",
        Rule::k_side => "`side`",
        Rule::k_skip => "`skip`",
        Rule::k_sp => "`sp`",
        Rule::k_spiral => "`spiral`",
        Rule::k_st => "`sts`",
        Rule::k_start => "`start`",
        Rule::k_takes => "`takes`",
        Rule::k_times => "`times`",
        Rule::k_to => "`to`",
        Rule::k_together | Rule::together => "`together`",
        Rule::k_fro | Rule::to_and_fro => "`to and fro`",
        Rule::k_top => "`top`",
        Rule::k_turn => "`turn`",
        Rule::k_turning => "`turning`",
        Rule::k_without | Rule::without_turning | Rule::now_print_slip => "`without turning`",
        Rule::now_lead => "`lead ch 1`",
        Rule::k_along => "`along`",
        Rule::surface_on => "a piece",
        Rule::k_until => "`until`",
        Rule::k_weight => "`weight`",
        Rule::k_with => "`with`",
        Rule::k_ws => "`ws`",
        Rule::k_steel => "`steel`",
        Rule::steel_number => "the number of a steel hook",
        Rule::word_times => "`once` or `twice`",
        Rule::stitch | Rule::full_name | Rule::slip_stitch | Rule::stitch_word | Rule::work => "a stitch",
        Rule::mark_name => "the name of a marked place",
        Rule::yarn_name => "the name of a yarn",
        Rule::kind | Rule::till_next => "a kind of place such as `st` or `ch-2 sp`",
        Rule::space | Rule::any_space => "a space such as `ch-2 sp`",
        Rule::till => "how far, as `to end`",
        Rule::each_place | Rule::in_count | Rule::in_place | Rule::place | Rule::next_of | Rule::next_place => {
            "a place, as `in next`"
        }
        Rule::steps | Rule::step | Rule::repeat_steps | Rule::repeat_step | Rule::star_steps | Rule::star_link => {
            "a step"
        }
        Rule::loop_only => "a loop, `blo` or `flo`",
        Rule::below => "how many rows below",
        Rule::open_square => "`[`",
        Rule::close_square => "a closing `]`",
        Rule::arms | Rule::arm => "`on` and what the stitch meets",
        Rule::open_round => "`(`",
        Rule::close_round => "a closing `)`",
        Rule::extent => "how often or how far, as `6 times` or `to end`",
        Rule::times => "how often, as `6 times`",
        Rule::chain_as => "a chain such as `ch 3 as dc`",
        Rule::chain => "a chain such as `ch 3`",
        Rule::skip_what => "how many are skipped",
        Rule::lead_body => "`ch` and a number, or `none`",
        Rule::label_numbers => "the number of the row or round",
        Rule::side => "`rs` or `ws`",
        Rule::as_line => "`as` and the row or round that is said again",
        Rule::stated_line | Rule::stated_parts | Rule::stated_part => "the stated count",
        Rule::like => "`as` and the name of a piece",
        Rule::again_what | Rule::again_above => "the rows or rounds that are done again",
        Rule::again_extent | Rule::until | Rule::until_line | Rule::until_stitches | Rule::until_length => {
            "how often or how far, as `4 times` or `until rnd 12`"
        }
        Rule::length_unit => "`cm` or `in`",
        Rule::piece_name | Rule::rest_of_line | Rule::sewn_name => "the name of the piece",
        Rule::piece_part | Rule::way | Rule::in_rows | Rule::in_joined_rounds | Rule::in_a_spiral => {
            "`in rows`, `in joined rounds` or `in a spiral`"
        }
        Rule::k_a => "`a`",
        Rule::copies => "`make 2`",
        Rule::stripe => "a yarn and a number, as `A 2`",
        Rule::start_chain => "a chain such as `ch 7`",
        Rule::start_foundation => "foundation stitches such as `24 fsc`",
        Rule::evenly => "`6 inc evenly in sc to end`",
        Rule::join_to => "`join to` a piece",
        Rule::joined_name
        | Rule::joined_word
        | Rule::as_piece
        | Rule::mirror_name
        | Rule::start_name
        | Rule::placed_on
        | Rule::like_name => "the name of a piece",
        Rule::behind => "`behind` and an earlier round",
        Rule::mirror => "`mirror of` a piece",
        Rule::k_flat | Rule::lies_flat => "`flat`",
        Rule::turned | Rule::k_turned => "`turned`",
        Rule::nth => "a place such as `5th st`",
        Rule::next_gap => "`next gap`",
        Rule::first_gap => "`first gap`",
        Rule::just_made => "`st just made`",
        Rule::skipped | Rule::k_skipped => "`skipped`",
        Rule::part_of | Rule::inner_part => "a part of an edge, as `first 12 of top of` a piece",
        Rule::start_around => "`around` a piece",
        Rule::start_along | Rule::start_again | Rule::start_part => "an edge of a piece",
        Rule::start_edge => "`edge of` a piece",
        Rule::start_other => "`other side of` a piece",
        Rule::start_top => "`top of` a piece",
        Rule::set_aside => "`set aside 30 as` a name",
        Rule::opening_name => "the name of the opening",
        Rule::start_side => "`left edge of` or `right edge of` a piece",
        Rule::through => "`through front loops of rnd 7`",
        Rule::start_loops => "`front loops of rnd 7 of` a piece",
        Rule::start_held => "`stitches of` an opening",
        Rule::start_bridge => "`chain of` an opening",
        Rule::rest_part => "`rest of` an edge",
        Rule::start_through | Rule::start_layer | Rule::k_through => "`through` two edges",
        Rule::start_thing | Rule::thing_name => "`on` something that is not crocheted",
        Rule::new_chain => "a chain such as `ch 4`",
        Rule::rim_from | Rule::rim_middle => "`from middle of chain`",
        Rule::seam_edges => "two edges, as `left edge of Front to right edge of Back`",
        Rule::easing | Rule::k_easing => "`easing 2`",
        Rule::length_from | Rule::from_line => "`from` a marked place, an opening or a round",
        Rule::layout | Rule::k_layout => "`in a layout of 5 x 4`",
        Rule::layout_joined => "`joined in` a kind of space",
        Rule::layout_sewn | Rule::k_sewn => "`sewn`",
        Rule::layout_corners | Rule::k_corners => "`corners in` a kind of space",
        Rule::rim_corners => "`with 1 at each corner`",
        Rule::k_places => "`places`",
        Rule::k_aside => "`aside`",
        Rule::k_set => "`set`",
        Rule::k_corner => "`corner`",
        Rule::k_left => "`left`",
        Rule::k_right => "`right`",
        Rule::k_middle => "`middle`",
        Rule::seam_side | Rule::seam_row | Rule::seam_first | Rule::seam_last | Rule::seam_start => {
            "an edge such as `row 40`, `start`, `first 12` or `last 12`"
        }
        Rule::k_mm => "`mm`",
        Rule::hook_letter | Rule::bracketed => "a hook size such as `(G)`",
        Rule::picture_file => "the name of a file",
        Rule::yarn_part | Rule::yarn_more => "anything else about the yarn",
        Rule::weight | Rule::weight_value => "a weight such as `weight 3`",
        Rule::ball => "a ball such as `50 g = 110 m`",
        Rule::measure => "a length such as `10 cm`",
        Rule::measure_of_yarn => "how much yarn, such as `7.3 g` or `14 m`",
        Rule::k_wraps => "`wraps`",
        Rule::k_strands => "`strands`",
        Rule::k_round => "`round`",
        Rule::in_yarn => "`in` and a yarn",
        Rule::measure_unit | Rule::unit_of_yarn => "a unit such as `g` or `m`",
        Rule::by_sign => "`x`",
        Rule::gauge_stitch => "the stitch of the gauge",
        Rule::code_name => "the name of a warning",
        Rule::reason => "the reason",
        Rule::finished_what => "what is measured, as `around`",
        Rule::grid_name => "the name of a grid",
        Rule::grid_part | Rule::overlay | Rule::inset | Rule::filet | Rule::corner_to_corner => {
            "`in` and a stitch, `mosaic overlay`, `mosaic inset`, `filet` or `corner to corner`"
        }
        Rule::grid_stitch => "`in` and a stitch",
        Rule::k_overlay => "`overlay`",
        Rule::k_inset => "`inset`",
        Rule::legend_entry => "a sign and what it means, as `x = bobble in B`",
        Rule::legend_what => "a yarn, a stitch, `open` or `filled`",
        Rule::sign => "a sign of the grid",
        Rule::bar => "`|`",
        Rule::k_carried => "`carried`",
        Rule::k_stranded => "`stranded`",
        Rule::EOI => "the end of the line",
        Rule::k_rnd
        | Rule::k_row
        | Rule::k_loop
        | Rule::x_word
        | Rule::of_slip
        | Rule::joined_in_print
        | Rule::k_only
        | Rule::times_word_slip
        | Rule::loop_slip
        | Rule::back_loop_slip
        | Rule::front_loop_slip
        | Rule::join_slip
        | Rule::range_slip
        | Rule::sum_slip
        | Rule::gap_slip
        | Rule::k_chain
        | Rule::k_fo
        | Rule::k_more
        | Rule::k_place
        | Rule::k_rep
        | Rule::k_the
        | Rule::k_around
        | Rule::k_across
        | Rule::k_sk
        | Rule::k_once
        | Rule::k_twice
        | Rule::tight_chain
        | Rule::space_word
        | Rule::space_slip
        | Rule::sp_slip
        | Rule::last_one_slip
        | Rule::till_slip
        | Rule::each_of_slip
        | Rule::count_times_slip
        | Rule::same
        | Rule::ring
        | Rule::first
        | Rule::last
        | Rule::own_lead_top
        | Rule::from_hook
        | Rule::chain_of
        | Rule::of_space
        | Rule::the_slip
        | Rule::semicolon_slip
        | Rule::each
        | Rule::repeat
        | Rule::stop
        | Rule::round
        | Rule::more_slip
        | Rule::by_slip
        | Rule::star_by_slip
        | Rule::k_mr
        | Rule::after_count_slip
        | Rule::hook_no
        | Rule::steel_hook
        | Rule::steel_mm_slip
        | Rule::hook_bare_slip
        | Rule::full_stop_slip
        | Rule::quoted_single
        | Rule::quote_end
        | Rule::full_lead
        | Rule::full_head
        | Rule::full_tail
        | Rule::full_gap
        | Rule::slip_to_first
        | Rule::joined_stitch
        | Rule::bare_times_slip
        | Rule::star_slip
        | Rule::rep_from
        | Rule::turning
        | Rule::skip
        | Rule::leave
        | Rule::move_along
        | Rule::turn
        | Rule::other_side
        | Rule::own_lead
        | Rule::no_lead
        | Rule::mark
        | Rule::go
        | Rule::change
        | Rule::fasten_off
        | Rule::rejoin
        | Rule::close
        | Rule::label_line
        | Rule::label_end_slip
        | Rule::work_line
        | Rule::stray_slip
        | Rule::count_slip
        | Rule::stated_link
        | Rule::plus_slip
        | Rule::again_line
        | Rule::piece_line
        | Rule::way_slip
        | Rule::with_line
        | Rule::now_line
        | Rule::surface_line
        | Rule::surface_word
        | Rule::surface_from
        | Rule::now_part
        | Rule::using_line
        | Rule::lead_line
        | Rule::stripe_line
        | Rule::start_line
        | Rule::ring_slip
        | Rule::fasten_line
        | Rule::gather_line
        | Rule::seam_line
        | Rule::sew_line
        | Rule::change_line
        | Rule::pompon_line
        | Rule::fringe_line
        | Rule::cord_line
        | Rule::place_line
        | Rule::placed_word
        | Rule::spot_begin
        | Rule::spot_more
        | Rule::swatch_line
        | Rule::blocks_line
        | Rule::last_of
        | Rule::counts_line
        | Rule::set_line
        | Rule::meant_line
        | Rule::hook_line
        | Rule::picture_line
        | Rule::yarn_line
        | Rule::gauge_line
        | Rule::finished_line
        | Rule::stitch_head
        | Rule::unit_line
        | Rule::steps_line
        | Rule::WHITESPACE
        | Rule::inside
        | Rule::factor
        | Rule::reserved
        | Rule::where_to
        | Rule::separator
        | Rule::round_end
        | Rule::star_step
        | Rule::sewn_word
        | Rule::count_place_slip
        | Rule::count_sts_slip
        | Rule::sts_slip
        | Rule::bare_kind_slip
        | Rule::tog_slip
        | Rule::back_slip
        | Rule::front_slip
        | Rule::rep_till_slip
        | Rule::turned_slip
        | Rule::yarn_slip
        | Rule::rep_slip
        | Rule::as_slip
        | Rule::way_end
        | Rule::like_end
        | Rule::way_only_slip
        | Rule::way_word_slip
        | Rule::k_spirals
        | Rule::total_word
        | Rule::to_slip
        | Rule::decimal_slip
        | Rule::aside_rest
        | Rule::opening_word
        | Rule::front_word
        | Rule::back_word
        | Rule::start_whole
        | Rule::start_stop
        | Rule::edge_words
        | Rule::layout_by
        | Rule::colours
        | Rule::run
        | Rule::run_yarn
        | Rule::run_yarn_to
        | Rule::run_word
        | Rule::run_end
        | Rule::trade_stitch
        | Rule::grid_step
        | Rule::grid_extent
        | Rule::k_grid
        | Rule::grid_line
        | Rule::k_mosaic
        | Rule::k_filet
        | Rule::legend_line
        | Rule::squares_line
        | Rule::colours_line
        | Rule::by_sign_slip => return None,
    };
    Some(name)
}
