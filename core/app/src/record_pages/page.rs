//! What is on each page.

use ebbstead_present::record::{Chapter, Layout, Part};

use super::{Asked, Card, Done, Extra, RecordPages, Remarks, Screen, Shown, since, sound};
use crate::alerts::Plan;
use crate::chart::DayChart;
use crate::error::Result;
use crate::forms::record::{
    Days, OUTCOME_DAYS, RATED_DAYS, REVIEW_DAYS, SENSOR_DAYS, SUPPLY_DAYS, read_rated, read_review,
};
use crate::learn::{KEPT_AS, Lesson};
use crate::outcomes::Outcomes;
use crate::review::Period;
use crate::reviewed::Reviewed;
use crate::sensor::Record;
use crate::store::Log;
use crate::supplies::{Outlook, costs};
use crate::words::{ShellLabel, Words};
use crate::{forms, pages};

impl RecordPages {
    pub(super) fn shown(&self, asked: &Asked, done: Done) -> Shown {
        let Done { document, changed, opened, words } = done;
        let asked = &Asked { words: words.unwrap_or(asked.words), ..*asked };
        let opened = opened.as_deref().map(String::as_str);
        let (parts, answers, damage) = match sound(asked) {
            Ok(log) => {
                let parts = self.chapter.map(|chapter| self.page(chapter, &log, opened, asked)).unwrap_or_default();
                let is_list = self.chapter.is_none();
                let answer = |chapter| {
                    self.answer(chapter, &log, asked).unwrap_or_else(|error| (vec![asked.words.advice(&error)], None))
                };
                let answers = Chapter::ALL.map(|one| if is_list { answer(one) } else { Default::default() });
                (parts, answers, log.damage().found())
            }
            Err(error) => (vec![Part::Said(asked.words.advice(&error))], Default::default(), None),
        };
        let card = |(chapter, (lines, chart)): (Chapter, _)| Card {
            chapter,
            name: chapter.name(asked.words).to_owned(),
            lines,
            chart,
        };
        let cards = Chapter::ALL.into_iter().zip(answers).map(card).collect();
        Shown { screen: Screen { cards, chapter: self.chapter, parts, document }, changed, damage }
    }

    /// What a page answers, for its card: without its proposals, patterns and prices, which take longest.
    fn answer(&self, chapter: Chapter, log: &Log, asked: &Asked) -> Result<(Vec<String>, Option<DayChart>)> {
        let Asked { words, now, is_damaged, .. } = *asked;
        let (wearer, days) = (log.wearer()?, |days| self.days(days, asked));
        let back = |days: u16| -> Result<_> {
            let period = Period::days_before(now, days)?;
            Ok((log.history(period.from(), now)?, period))
        };
        let label = |label| vec![words.shell_label(label).to_owned()];
        let lines = match chapter {
            Chapter::Review => {
                let reviewed = Reviewed::of(log, days(REVIEW_DAYS)?, read_review(&self.filled), now)?;
                return Ok((reviewed.answer(words), reviewed.day(words)));
            }
            Chapter::Sensors => {
                let rated = wearer.sensor_rated_days.map(f64::from);
                let record = Record::of(&back(days(SENSOR_DAYS)?)?.0, rated, now);
                pages::sensor::answer(&record, rated, words, now)
            }
            Chapter::Alerts => {
                let (_, days, _) = forms::alerts::read(&self.filled, &Plan::of(&wearer), words);
                let Some(days) = days else { return Ok(Default::default()) };
                let (history, period) = back(days)?;
                pages::alerts::answer(&history, &wearer, period, words)
            }
            Chapter::Learnt => match log.learned::<Lesson>(KEPT_AS)? {
                Some(kept) => pages::learn::answer(&kept.what, words),
                None => label(ShellLabel::NothingLearnt),
            },
            Chapter::Outcomes => {
                let (history, period) = back(days(OUTCOME_DAYS)?)?;
                pages::outcomes::answer(&Outcomes::of(&history, &wearer, period, now), &wearer, words)
            }
            Chapter::Supplies => {
                let history = back(days(SUPPLY_DAYS)?)?.0;
                pages::supplies::answer(&Outlook::all(&history, &wearer, now), words, now)
            }
            Chapter::Copies => label(if is_damaged || log.damage().found().is_some() {
                ShellLabel::RecoverWhy
            } else {
                ShellLabel::SealLog
            }),
        };
        Ok((lines, None))
    }

    fn page(&self, chapter: Chapter, log: &Log, opened: Option<&str>, asked: &Asked) -> Vec<Part> {
        // A page is asked for before its fields are laid out, so that what cannot be taken stands beside them.
        let remarks = self.remarks.clone();
        match chapter {
            Chapter::Review => self.review(log, remarks, asked),
            Chapter::Sensors => self.sensors(log, remarks, asked),
            Chapter::Alerts => self.alerts(log, remarks, asked),
            Chapter::Learnt => self.learnt(log, remarks, asked),
            Chapter::Outcomes => self.outcomes(log, remarks, asked),
            Chapter::Supplies => self.supplies(log, remarks, asked),
            Chapter::Copies => self.copies(log, &remarks, opened, asked),
        }
    }

    fn review(&self, log: &Log, mut remarks: Remarks, asked: &Asked) -> Vec<Part> {
        let Asked { words, now, .. } = *asked;
        let (day, page) = self
            .of_days(REVIEW_DAYS, &mut remarks, asked, |days| {
                let reviewed = Reviewed::of(log, days, read_review(&self.filled), now)?;
                Ok((reviewed.day(words), reviewed.page(words)))
            })
            .unzip();
        self.layout(&remarks, words).review(day.flatten(), page)
    }

    fn sensors(&self, log: &Log, mut remarks: Remarks, asked: &Asked) -> Vec<Part> {
        let Asked { words, now, .. } = *asked;
        let wearer = remarks.attempt(None, words, log.wearer()).unwrap_or_default();
        // A slip in the rated length must not hide the record: the page does without.
        let rated = remarks.attempt(Some(RATED_DAYS), words, read_rated(&self.filled, &wearer, words));
        let rated = rated.as_ref().unwrap_or(&wearer).sensor_rated_days.map(f64::from);
        let page = self.of_days(SENSOR_DAYS, &mut remarks, asked, |days| {
            let record = Record::of(&log.history(since(now, days), now)?, rated, now);
            Ok(pages::sensor::page(&record, rated, words, now))
        });
        let sheet = if let Extra::Sheet(sheet) = &self.extra { Some(sheet.as_str()) } else { None };
        self.layout(&remarks, words).sensors(sheet, page, &wearer)
    }

    fn alerts(&self, log: &Log, mut remarks: Remarks, asked: &Asked) -> Vec<Part> {
        let Asked { words, now, .. } = *asked;
        let wearer = remarks.attempt(None, words, log.wearer()).unwrap_or_default();
        let own = Plan::of(&wearer);
        let (form, days, tried) = forms::alerts::read(&self.filled, &own, words);
        let page = days.and_then(|days| {
            let replayed = Period::days_before(now, days).and_then(|period| {
                let history = log.history(period.from(), period.until())?;
                Ok(pages::alerts::page(&history, &wearer, &tried.unwrap_or(own), period, words))
            });
            remarks.attempt(None, words, replayed)
        });
        self.layout(&remarks, words).alerts(page, form)
    }

    fn learnt(&self, log: &Log, mut remarks: Remarks, asked: &Asked) -> Vec<Part> {
        let words = asked.words;
        let page = if let Extra::Lesson(page) = &self.extra {
            Some(page.clone())
        } else {
            let last = remarks.attempt(None, words, log.learned::<Lesson>(KEPT_AS)).flatten();
            last.map(|kept| pages::learn::page(&kept.what, &[], words))
        };
        self.layout(&remarks, words).learnt(page)
    }

    fn outcomes(&self, log: &Log, mut remarks: Remarks, asked: &Asked) -> Vec<Part> {
        let Asked { words, now, .. } = *asked;
        let page = self.of_days(OUTCOME_DAYS, &mut remarks, asked, |days| {
            let (period, wearer) = (Period::days_before(now, days)?, log.wearer()?);
            let outcomes = Outcomes::of(&log.history(period.from(), now)?, &wearer, period, now);
            Ok(pages::outcomes::page(&outcomes, &wearer, words))
        });
        self.layout(&remarks, words).outcomes(page)
    }

    fn supplies(&self, log: &Log, mut remarks: Remarks, asked: &Asked) -> Vec<Part> {
        let Asked { words, now, .. } = *asked;
        let page = self.of_days(SUPPLY_DAYS, &mut remarks, asked, |days| {
            let (period, wearer) = (Period::days_before(now, days)?, log.wearer()?);
            let history = log.history(period.from(), now)?;
            let outlooks = Outlook::all(&history, &wearer, now);
            Ok(pages::supplies::page(&outlooks, &costs(&history, &wearer, now), words, now))
        });
        let statement = if let Extra::Statement(page) = &self.extra { Some(page.clone()) } else { None };
        self.layout(&remarks, words).supplies(page, statement)
    }

    fn copies(&self, log: &Log, remarks: &Remarks, opened: Option<&str>, asked: &Asked) -> Vec<Part> {
        match &self.chosen {
            Some(chosen) => self.layout(remarks, asked.words).looking_into(&chosen.log, opened),
            None => {
                let is_damaged = asked.is_damaged || log.damage().found().is_some();
                self.layout(remarks, asked.words).copies(is_damaged)
            }
        }
    }

    fn layout<'a>(&'a self, remarks: &'a Remarks, words: Words) -> Layout<'a> {
        Layout::new(words, &remarks.said, &self.filled, &remarks.beside)
    }

    /// Asks a page of so many days back.
    fn of_days<T>(
        &self,
        days: Days,
        remarks: &mut Remarks,
        asked: &Asked,
        page: impl FnOnce(u16) -> Result<T>,
    ) -> Option<T> {
        let found = self.days(days, asked).and_then(page);
        remarks.attempt(Some(days.0), asked.words, found)
    }
}
