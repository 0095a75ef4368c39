//! Steps that stand side by side and are told as one: `sc in next st, sc in next st` is `sc in next 2 sts`.

use crate::pattern::model::{Place, Sized, Step, StepKind, Till, Where, Work};

use super::names::Voice;

/// The steps, with those put together that make the same stitches in places side by side.
pub(super) fn put_together(voice: &Voice<'_>, steps: &[Step]) -> Vec<Step> {
    let mut told: Vec<Step> = Vec::with_capacity(steps.len());
    for step in steps {
        match told.last().and_then(|before| as_one(voice, before, step)) {
            Some(both) => {
                told.pop();
                told.push(both);
                all_the_way(voice, &mut told);
            }
            None => told.push(step.clone()),
        }
    }
    told
}

/// `sc, sc to last 1, sc` is `sc to end`: the last two are one already.
fn all_the_way(voice: &Voice<'_>, told: &mut Vec<Step>) {
    let is_all = |step: &Step| matches!(&step.kind, StepKind::Work(work) if work.places == Where::Till(Till::End));
    let Some([first, all]) = told.last_chunk::<2>() else { return };
    let (Some(one), Some(other)) = (alone(voice, first), alone(voice, all)) else { return };
    if is_all(all) && are_alike(one, other) && number(one).is_some() {
        let all = all.clone();
        told.truncate(told.len().saturating_sub(2));
        told.push(all);
    }
}

/// A step of one stitch a place, or of several; none of the designer's own, nor one that goes over several places.
fn alone<'a>(voice: &Voice<'_>, step: &'a Step) -> Option<&'a Work> {
    let StepKind::Work(work) = &step.kind else { return None };
    let plain = voice.pattern.stitches.get(work.stitch).is_some_and(|stitch| stitch.takes == 1)
        && voice.definition(work.stitch).is_none();
    (plain && !work.ambiguous).then_some(work)
}

fn are_alike(one: &Work, other: &Work) -> bool {
    one.stitch == other.stitch
        && one.loop_only == other.loop_only
        && one.below == other.below
        && one.each.values == other.each.values
}

/// How many places that come next a step goes into, in each size.
fn number(work: &Work) -> Option<Vec<u32>> {
    match &work.places {
        Where::Count(number) => Some(number.values.clone()),
        Where::In(Place::Next) => Some(vec![1; work.each.values.len()]),
        _ => None,
    }
}

/// Two steps as one.
fn as_one(voice: &Voice<'_>, before: &Step, after: &Step) -> Option<Step> {
    let (one, other) = (alone(voice, before)?, alone(voice, after)?);
    if !are_alike(one, other) {
        return None;
    }
    let places = match (&one.places, &other.places) {
        (Where::Till(Till::Last(left)), _) if Some(&left.values) == number(other).as_ref() => Where::Till(Till::End),
        (Where::In(Place::NextOf(kind)), Where::In(Place::NextOf(same))) if kind == same => {
            Where::CountOf(Sized { values: vec![2; one.each.values.len()], ..one.each.clone() }, *kind)
        }
        (Where::CountOf(number, kind), Where::In(Place::NextOf(same))) if kind == same => {
            let values = number.values.iter().map(|number| number.saturating_add(1)).collect();
            Where::CountOf(Sized { values, ..number.clone() }, *kind)
        }
        _ => {
            let (these, those) = (number(one)?, number(other)?);
            let values = these.iter().zip(those).map(|(these, those)| these.saturating_add(those)).collect();
            Where::Count(Sized { values, ..one.each.clone() })
        }
    };
    Some(Step { span: before.span, kind: StepKind::Work(Work { places, ..one.clone() }) })
}
