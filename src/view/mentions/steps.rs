//! What steps name.

use super::{Collector, NameKind};
use crate::syntax::tree::{
    Kind, KindWhat, Lead, Part, Place, SeamSide, Step, StepKind, Text, Till, Trim, TrimKind, Where,
};
use crate::view::Class;

impl Collector<'_> {
    pub(super) fn steps(&mut self, steps: &[Step]) {
        for step in steps {
            self.step(step);
        }
    }

    fn step(&mut self, step: &Step) {
        match &step.kind {
            StepKind::SetAside { name, .. } => self.name(NameKind::Opening, name, true),
            StepKind::Mark(name) => self.name(NameKind::Mark, name, true),
            StepKind::ChangeTo(yarn) => self.name(NameKind::Yarn, yarn, false),
            StepKind::Rejoin { yarn, .. } => self.names(NameKind::Yarn, yarn, false),
            StepKind::JoinTo { piece, .. } => self.name(NameKind::Piece, piece, false),
            StepKind::Colours { runs, .. } => self.names(NameKind::Yarn, runs.iter().map(|run| &run.yarn), false),
            StepKind::Grid { name, .. } => self.name(NameKind::Grid, name, false),
            StepKind::Work(_)
            | StepKind::Group { .. }
            | StepKind::Together(_)
            | StepKind::ToAndFro { .. }
            | StepKind::Repeat(_)
            | StepKind::Chain(_)
            | StepKind::ChainAs { .. }
            | StepKind::TurningAs { .. }
            | StepKind::Skip { .. }
            | StepKind::Leave(_)
            | StepKind::Move(_)
            | StepKind::Turn
            | StepKind::OtherSide
            | StepKind::Lead(_)
            | StepKind::Go(_)
            | StepKind::FastenOff
            | StepKind::Close { .. }
            | StepKind::Evenly { .. }
            | StepKind::Behind { .. }
            | StepKind::Through { .. } => {}
        }
        step.kind.each_part(&mut |part| self.part(part));
    }

    fn part(&mut self, part: Part<'_>) {
        match part {
            Part::Steps(steps) => self.steps(steps),
            Part::Amount(amount) => self.amount(amount),
            Part::Stitch(stitch) => self.stitch(stitch),
            Part::Kind(kind) => self.kind(kind),
            Part::Places(places) => self.places(places),
            Part::Place(place) => self.place(place),
            Part::Till(till) => self.till(till),
        }
    }

    fn places(&mut self, places: &Where) {
        places.each_part(&mut |part| self.part(part));
    }

    fn place(&mut self, place: &Place) {
        if let Place::Mark(name) = place {
            self.name(NameKind::Mark, name, false);
        }
        if let Some(kind) = place.kind() {
            self.kind(kind);
        }
    }

    fn till(&mut self, till: &Till) {
        match till {
            Till::End => {}
            Till::Last(amount) => self.amount(amount),
            Till::Next(kind) | Till::LastOf(kind) => self.kind(kind),
            Till::Mark(name) => self.name(NameKind::Mark, name, false),
        }
    }

    pub(super) fn kind(&mut self, kind: &Kind) {
        match &kind.what {
            KindWhat::AnyStitch | KindWhat::Chain | KindWhat::Space(_) | KindWhat::AnySpace => {
                self.see(kind.span, Class::Place, None);
            }
            KindWhat::Stitch(name) => self.stitch(&Text { span: kind.span, text: name.clone() }),
        }
    }

    pub(super) fn lead(&mut self, lead: &Lead) {
        if let Lead::Chain { counts_as: Some(stitch), .. } = lead {
            self.stitch(stitch);
        }
    }

    pub(super) fn seam_side(&mut self, side: &SeamSide) {
        match side {
            SeamSide::Row(amount) | SeamSide::First(amount) | SeamSide::Last(amount) => self.amount(amount),
            SeamSide::Start => {}
        }
    }

    pub(super) fn trim(&mut self, trim: &Trim) {
        match &trim.what {
            TrimKind::Pompon { wraps: amount } | TrimKind::Fringe { strands: amount } => self.amount(amount),
            TrimKind::Cord { stitch } => self.stitch(stitch),
        }
        self.names(NameKind::Yarn, &trim.yarn, false);
    }
}
