//! The sample hat in three sizes is what grading proposes, and each size suits the head that it is for.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]

use std::fs;

use ringtrue::grade::{Grading, grade};

fn graded(text: &str) -> Grading {
    let compiled = ringtrue::compile(text);
    assert!(!compiled.has_errors(), "{:?}", compiled.findings);
    grade(text, &compiled).remove(0)
}

fn cap() -> String {
    fs::read_to_string("samples/causeway-cap.rnd").unwrap()
}

#[test]
fn the_sample_hat_is_what_is_proposed() {
    let grading = graded(&cap());
    assert_eq!(grading.set.as_deref(), Some("rim"));
    let sizes: Vec<_> = grading.sizes.iter().flatten().collect();
    assert_eq!(sizes.iter().map(|size| size.best.set).collect::<Vec<_>>(), [72, 84, 96]);
    assert!(sizes.iter().all(|size| size.best == size.now && size.best.closes && size.tie.is_none()));
}

/// Hats are smaller than the head: by 10 to 15 percent for children (a designer's page of standard head sizes), by 5 to 10
/// percent in a second trade table; the `hat` ease of the tables takes both in.
#[test]
fn each_size_of_it_is_within_its_ease() {
    let heads = [46.0..=49.0, 53.0..=56.0, 58.0..=61.0];
    let grading = graded(&cap());
    for (size, head) in grading.sizes.iter().flatten().zip(heads) {
        assert_eq!(size.is_suitable(), Some(true));
        let made = size.comes_to(size.best).mm() / 10.0;
        let middle = f64::midpoint(*head.start(), *head.end());
        let smaller = 100.0 * (1.0 - made / middle);
        assert!((4.9..=15.0).contains(&smaller), "{smaller} percent");
    }
}

/// A hat that is wished for larger gets no fewer stitches, whatever fits its lines; every one that is proposed fits them.
#[test]
fn a_larger_wish_never_gets_fewer_stitches() {
    let mut before = 0;
    for wish in (400..=600).step_by(50) {
        let text = cap().replace(
            "finished around 42.5 / 49.5 / 56.5 cm at Body",
            &format!("finished around {}.{} cm at Body", wish / 10, wish % 10),
        );
        let grading = graded(&text);
        let best = grading.sizes[0].clone().unwrap().best;
        assert!(best.stitches >= before && best.stitches.is_multiple_of(12), "{wish}: {}", best.stitches);
        before = best.stitches;
    }
}

#[test]
fn without_a_finished_measurement_the_head_and_the_ease_say_it() {
    let text = cap()
        .replace("finished around 42.5 / 49.5 / 56.5 cm at Body\n", "")
        .replace("finished height 18.5 / 21 / 23.5 cm\n", "");
    // The first piece that is measured is the first of the pattern, so the body has to be it.
    let (head, pieces) = text.split_once("piece Band").unwrap();
    let body = "piece Body, in joined rounds\nwith A\nlead ch 1\nstart ch {rim} joined\nrnd 1: sc in each ch to end = {rim}\nrnds 2-9: [sc 10, sc, sc] to end = {rim}\n";
    assert!(pieces.contains("piece Body"));
    let text = format!("{head}{body}")
        .replace("set band", "# set band")
        .replace("gauge band", "# gauge band")
        .replace("hook band", "# hook band");
    let grading = graded(&text);
    let best: Vec<u32> = grading.sizes.iter().flatten().map(|size| size.best.stitches).collect();
    assert!(best.iter().all(|count| count.is_multiple_of(12)) && best.is_sorted(), "{best:?}");
    assert!(grading.sizes.iter().flatten().all(|size| size.is_suitable() == Some(true)), "{best:?}");
}
