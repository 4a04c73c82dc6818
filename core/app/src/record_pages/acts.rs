//! What is done on a page of the record, besides writing files and looking into another log.

use super::{Asked, Changed, Done, Extra, RecordPages, since, sound};
use crate::alerts::Plan;
use crate::entries::{self, confirmation};
use crate::error::{Error, Quantity, Why};
use crate::forms::Filled;
use crate::forms::record::{LOT, NEED_DAYS, SENSOR_DAYS, read_lot, read_supply, supply_noted};
use crate::log::EntryKind;
use crate::page::Page;
use crate::sensor::sessions;
use crate::sentences::alerts::plan_kept;
use crate::store::Log;
use crate::supplies::Need;
use crate::wearer::Wearer;
use crate::words::ShellLabel;
use crate::{forms, learn, pages};

impl RecordPages {
    pub(super) fn sheet(&mut self, asked: &Asked) -> Option<String> {
        let Asked { words, now, .. } = *asked;
        let days = self.remarks.attempt(Some(SENSOR_DAYS.0), words, self.days(SENSOR_DAYS, asked));
        let lot = self.remarks.attempt(Some(LOT), words, read_lot(&self.filled));
        let (days, lot) = days.zip(lot)?;
        let sheet = sound(asked).and_then(|log| {
            let history = log.history(since(now, days), now)?;
            let found = sessions(&history, now);
            let rated = log.wearer()?.sensor_rated_days.map(f64::from);
            let newest = found.last().ok_or(Error::Invalid { what: Quantity::Sensor, why: Why::NoSuchSensor })?;
            Ok(pages::sheet::sheet(&history, newest, lot.as_ref(), rated, words, now))
        });
        self.remarks.attempt(Some(LOT), words, sheet)
    }

    pub(super) fn statement(&mut self, asked: &Asked) -> Option<Page> {
        let stated = self.days(NEED_DAYS, asked).and_then(|days| {
            let log = sound(asked)?;
            let need = Need::of_log(&log, &log.wearer()?, days, asked.now)?;
            Ok(pages::supplies::need_page(&need, asked.words))
        });
        self.remarks.attempt(Some(NEED_DAYS.0), asked.words, stated)
    }

    pub(super) fn learn(&mut self, asked: &Asked) -> Done {
        self.extra = Extra::Nothing;
        let learnt = Log::open(asked.log, asked.now).and_then(|mut log| {
            let lessons = learn::from_log(&mut log, asked.now)?;
            Ok(pages::learn::page(&lessons.lesson, &lessons.marked, asked.words))
        });
        let Some(page) = self.remarks.attempt(None, asked.words, learnt) else { return Done::NOTHING };
        self.extra = Extra::Lesson(page);
        Done::changed(Changed::Log)
    }

    pub(super) fn undo(&mut self, asked: &Asked) -> Done {
        let undone = sound(asked).and_then(|mut log| entries::undo(&mut log, asked.now, asked.words));
        let Some(said) = self.remarks.attempt(None, asked.words, undone) else { return Done::NOTHING };
        self.remarks.said.push(said);
        Done::changed(Changed::Log)
    }

    pub(super) fn keep_plan(&mut self, asked: &Asked) -> Done {
        let kept = sound(asked).and_then(|mut log| {
            let wearer = log.wearer()?;
            // What cannot be taken is said beside its field when the page is laid out.
            let before = Plan::of(&wearer);
            let (_, _, plan) = forms::alerts::read(&self.filled, &before, asked.words);
            let Some(now) = plan else { return Ok(None) };
            log.set_wearer(&Wearer { alert_plan: Some(now), ..wearer }, asked.now)?;
            let kept = || asked.words.shell_label(ShellLabel::Kept).to_owned();
            Ok(Some(plan_kept(&now, &before, asked.words).unwrap_or_else(kept)))
        });
        let Some(said) = self.remarks.attempt(None, asked.words, kept).flatten() else { return Done::NOTHING };
        self.leave_plan(asked);
        self.remarks.said.push(said);
        Done::changed(Changed::Settings)
    }

    pub(super) fn leave_plan(&mut self, asked: &Asked) {
        let (form, ..) = forms::alerts::read(&Filled::new(), &Plan::of(&Wearer::default()), asked.words);
        self.filled.retain(|id, _| form.fields.iter().all(|field| field.id != id));
    }

    pub(super) fn note_supply(&mut self, asked: &Asked) -> Done {
        let Asked { words, now, .. } = *asked;
        let remarks = &mut self.remarks;
        let mut refuse = |field, error: &Error| remarks.refuse(Some(field), error, words);
        let Some(supply) = read_supply(&self.filled, words, &mut refuse) else { return Done::NOTHING };
        let noted = sound(asked).and_then(|mut log| log.note(EntryKind::Supply(supply), now, now));
        let Some(entry) = self.remarks.attempt(None, words, noted) else { return Done::NOTHING };
        self.remarks.said.push(confirmation(&entry, ShellLabel::Kept, words));
        supply_noted(&mut self.filled);
        Done::changed(Changed::Log)
    }
}
