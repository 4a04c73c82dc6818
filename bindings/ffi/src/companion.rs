//! The one object a shell opens.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, TryLockError};
use std::time::Duration;

use ebbstead_core::log::{Entry, EntryKind, Prompting};
use ebbstead_core::outcomes::is_to_keep;
use ebbstead_core::store::{Log, Recorded, Revision};
use ebbstead_core::wearer::Wearer;
use ebbstead_core::words::Words;
use ebbstead_core::{Error, record_pages as record, time};

use crate::alerts::AlertsPart;
use crate::before::BeforePart;
use crate::check::CheckPart;
use crate::error::{ApiError, ApiResult};
use crate::exchange::ExchangePart;
use crate::first::FirstScreens;
use crate::log::LogPart;
use crate::log_screens::LogScreens;
use crate::prompting::PromptScreens;
use crate::record::RecordPages;
use crate::records::Moment;
use crate::review::ReviewPart;
use crate::settings::{SettingsPart, spoken};
use crate::watcher::{Due, Watcher};
use crate::words::WordsPart;

/// What a companion and its parts share.
pub struct Shared {
    log: Mutex<Option<Log>>,
    /// The same log, opened once more for prompts alone: they wait neither for a change nor for an export.
    asked: Mutex<Option<Log>>,
    closed: AtomicBool,
    /// Whether the log was looked through for damage.
    looked_through: AtomicBool,
    /// What damage was found, for the wearer.
    damage: Mutex<Option<String>>,
    /// Prompts that were shown and are not kept yet, because something else was writing.
    to_keep: Mutex<Vec<Entry>>,
    /// What devices nearby sent and is not kept yet, because something else was writing or there was no room; the oldest first.
    sent: Mutex<Vec<Entry>>,
    /// The prompt that was handed over to be kept last.
    last_shown: Mutex<Option<Prompting>>,
    words: Mutex<Words>,
    watcher: Mutex<Option<Arc<dyn Watcher>>>,
    due: Mutex<Option<Due>>,
    /// Whether the phone lets no alert ring, as the shell said last.
    alerts_off: AtomicBool,
    /// The log's state as the watcher knows it.
    notified: Mutex<Option<Revision>>,
}

/// What became of what a device sent.
pub(crate) struct Sent {
    pub recorded: Recorded,
    /// Whether the watcher is to be notified.
    pub is_news: bool,
    /// Why it waits.
    pub refused: Option<ApiError>,
}

/// A panic while a lock was held leaves nothing half done: the log rolls back, and everything else is replaced as a whole.
pub(crate) fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(std::sync::PoisonError::into_inner)
}

impl Shared {
    /// Runs `work`; should the core panic, that becomes an error like any other. Left to the generated code it would be an
    /// exception of another kind, which a shell may not expect and end by.
    pub(crate) fn guarded<T>(&self, work: impl FnOnce() -> ApiResult<T>) -> ApiResult<T> {
        catch_unwind(AssertUnwindSafe(work)).unwrap_or_else(|_| Err(ApiError::panicked(self.words())))
    }

    /// Runs `ask` on the log, alone; beside a change that waits for another program, as prompts do.
    pub(crate) fn with<T>(&self, ask: impl FnOnce(&mut Log) -> Result<T, Error>) -> ApiResult<T> {
        self.guarded(|| match self.free() {
            Some(log) => self.run(log, ask),
            None => self.run(locked(&self.asked), ask),
        })
    }

    /// Where the log is, for what opens it for itself so that nobody waits: nothing is opened there once it was deleted, moved or replaced.
    pub(crate) fn place(&self) -> ApiResult<PathBuf> {
        self.with(|log| {
            let path = log.path().to_owned();
            if log.is_in_place() { Ok(path) } else { Err(Error::Gone { path }) }
        })
    }

    /// As [`Shared::with`], for what may change the log; the watcher is notified afterwards if it did.
    pub(crate) fn change<T>(&self, change: impl FnOnce(&mut Log) -> Result<T, Error>) -> ApiResult<T> {
        let (done, changed) = self.write(|log| {
            let done = change(log)?;
            Ok((done, self.is_news(log)))
        })?;
        if changed {
            self.notify(|watcher| watcher.log_changed());
        }
        Ok(done)
    }

    /// As [`Shared::change`], where the watcher is notified of something else than the log. Never by the prompts' own way in, which would
    /// wait with it for another program that writes.
    pub(crate) fn write<T>(&self, work: impl FnOnce(&mut Log) -> Result<T, Error>) -> ApiResult<T> {
        self.guarded(|| self.run(locked(&self.log), work))
    }

    fn run<T>(
        &self,
        mut log: MutexGuard<'_, Option<Log>>,
        work: impl FnOnce(&mut Log) -> Result<T, Error>,
    ) -> ApiResult<T> {
        let open = log.as_mut().ok_or_else(|| ApiError::closed(self.words()))?;
        self.keep_waiting(open);
        // Once, so that rows that are there and cannot be reached are noticed; prompts do not come this way.
        if !self.looked_through.swap(true, Ordering::Relaxed) {
            open.look_through().map_err(|error| self.refused(&error))?;
        }
        let done = work(open);
        self.note_damage(open);
        done.map_err(|error| self.refused(&error))
    }

    /// The log, unless something works on it just now.
    fn free(&self) -> Option<MutexGuard<'_, Option<Log>>> {
        match self.log.try_lock() {
            Ok(log) => Some(log),
            Err(TryLockError::Poisoned(poisoned)) => Some(poisoned.into_inner()),
            Err(TryLockError::WouldBlock) => None,
        }
    }

    /// Runs `ask` on the log as it stands, for a prompt: it waits for nothing.
    pub(crate) fn ask<T>(&self, ask: impl FnOnce(&Log) -> Result<T, Error>) -> ApiResult<T> {
        self.guarded(|| {
            let log = locked(&self.asked);
            let open = log.as_ref().ok_or_else(|| ApiError::closed(self.words()))?;
            let done = ask(open);
            self.note_damage(open);
            done.map_err(|error| self.refused(&error))
        })
    }

    /// Keeps a prompt that was shown as soon as nothing else is writing: now, or with the next call that uses the log.
    pub(crate) fn keep_soon(&self, shown: Entry) {
        const MOST: usize = 100;
        if !self.is_news_to_show(&shown) {
            return;
        }
        let mut waiting = locked(&self.to_keep);
        if waiting.len() < MOST {
            waiting.push(shown);
        }
        drop(waiting);
        self.keep_what_waits();
    }

    /// Keeps what waits to be, unless something works on the log just now.
    pub(crate) fn keep_what_waits(&self) {
        if locked(&self.to_keep).is_empty() && locked(&self.sent).is_empty() {
            return;
        }
        let Some(mut log) = self.free() else { return };
        let Some(open) = log.as_mut() else { return };
        self.keep_waiting(open);
        let changed = self.is_news(open);
        drop(log);
        if changed {
            self.notify(|watcher| watcher.log_changed());
        }
    }

    /// Keeps what a device sent, behind what waits of it already. Where another program writes, or there is no room, it waits for the next
    /// call that uses the log: a device does not send it again.
    pub(crate) fn keep_sent(&self, entries: Vec<Entry>) -> ApiResult<Sent> {
        /// More than a sensor sends in a day.
        const MOST: usize = 2000;
        let mut all = std::mem::take(&mut *locked(&self.sent));
        let waited = all.len();
        all.extend(entries);
        let done = self.write(|log| Ok((log.record_all(all.iter().cloned())?, self.is_news(log))));
        let refused = match done {
            Ok((recorded, is_news)) => return Ok(Sent { recorded, is_news, refused: None }),
            Err(refused) => refused,
        };
        let waits = matches!(refused, ApiError::Busy { .. } | ApiError::NoRoom { .. });
        if !waits {
            all.truncate(waited);
        }
        let mut sent = locked(&self.sent);
        all.append(&mut sent);
        all.drain(..all.len().saturating_sub(MOST));
        *sent = all;
        if waits {
            Ok(Sent { recorded: Recorded::default(), is_news: false, refused: Some(refused) })
        } else {
            Err(refused)
        }
    }

    /// How much of what devices sent waits to be kept.
    pub(crate) fn unkept(&self) -> u32 {
        u32::try_from(locked(&self.sent).len()).unwrap_or(u32::MAX)
    }

    /// Whether a prompt says something else than the one handed over last. The log knows too, unless damage hides what it kept: then each
    /// showing would keep another, each kept one have the screen look again, and so on without end.
    fn is_news_to_show(&self, shown: &Entry) -> bool {
        let EntryKind::Prompted(prompted) = shown.what else { return true };
        let mut last = locked(&self.last_shown);
        if last.is_some_and(|last| !is_to_keep(&prompted, shown.at, &[last])) {
            return false;
        }
        *last = Some(Prompting { at: shown.at, shown: prompted });
        true
    }

    /// Keeps what devices sent and prompts that were shown, where they are not kept yet, without waiting.
    fn keep_waiting(&self, log: &mut Log) {
        let sent = std::mem::take(&mut *locked(&self.sent));
        let shown = std::mem::take(&mut *locked(&self.to_keep));
        if sent.is_empty() && shown.is_empty() {
            return;
        }
        let at_once = log.wait_at_most(Duration::ZERO).is_ok();
        if !sent.is_empty() && (!at_once || log.record_all(sent.iter().cloned()).is_err()) {
            locked(&self.sent).splice(..0, sent);
        }
        // A prompt that cannot be kept for another reason than that something else writes is let go: an answer does not fail by it.
        if at_once
            && !shown.is_empty()
            && matches!(log.record_all_said(&shown), Err(Error::Busy { .. } | Error::DiskFull { .. }))
        {
            locked(&self.to_keep).extend(shown);
        }
        let _ = log.wait_at_most(Log::PATIENCE);
    }

    fn note_damage(&self, log: &Log) {
        if let Some(error) = log.damage().found() {
            self.note_found(&error);
        }
    }

    /// Notes damage that was found.
    pub(crate) fn note_found(&self, error: &Error) {
        locked(&self.damage).get_or_insert_with(|| self.words().advice(error));
    }

    /// What damage was found until now, for the wearer.
    pub(crate) fn damage(&self) -> Option<String> {
        locked(&self.damage).clone()
    }

    fn is_open(&self) -> ApiResult<()> {
        if self.closed.load(Ordering::Acquire) { Err(ApiError::closed(self.words())) } else { Ok(()) }
    }

    /// Whether the log is in another state than the watcher knows; from now on it knows this one.
    pub(crate) fn is_news(&self, log: &Log) -> bool {
        let now = log.revision().ok();
        let mut notified = locked(&self.notified);
        let news = *notified != now;
        *notified = now;
        news
    }

    pub(crate) fn refused(&self, error: &Error) -> ApiError {
        ApiError::of(error, self.words())
    }

    pub(crate) fn words(&self) -> Words {
        *locked(&self.words)
    }

    pub(crate) fn speak(&self, words: Words) {
        *locked(&self.words) = words;
    }

    pub(crate) fn settings_changed(&self, words: Words) {
        self.speak(words);
        self.notify(|watcher| watcher.settings_changed());
    }

    pub(crate) fn can_ring(&self) -> bool {
        !self.alerts_off.load(Ordering::Relaxed)
    }

    pub(crate) fn set_can_ring(&self, can_ring: bool) {
        self.alerts_off.store(!can_ring, Ordering::Relaxed);
    }

    pub(crate) fn set_due(&self, due: Option<Due>) {
        *locked(&self.due) = due;
    }

    /// Notifies the watcher, if there is one. Nothing it throws comes back.
    pub(crate) fn notify(&self, what: impl FnOnce(&dyn Watcher) -> Result<(), ApiError>) {
        let watcher = locked(&self.watcher).clone();
        if let Some(watcher) = watcher {
            let _ = catch_unwind(AssertUnwindSafe(|| what(watcher.as_ref())));
        }
    }
}

/// A wearer's log, opened, and the parts that work on it.
///
/// Not just "Companion", which Kotlin keeps for itself; nor is closing "close", which there lets go of the handle alone.
#[derive(uniffi::Object)]
pub struct EbbsteadCompanion {
    shared: Arc<Shared>,
}

#[uniffi::export]
impl EbbsteadCompanion {
    /// Opens the log at `path`, or makes it where there is none. The folder must be there. `language`, a tag of BCP 47, is spoken
    /// until the log gives the wearer's own; English, where it has no words. [`crate::languages`] says which have.
    ///
    /// # Errors
    /// [`ApiError::NewerLog`], [`ApiError::Damaged`], [`ApiError::NoRoom`], [`ApiError::Busy`], [`ApiError::Failed`]; the file
    /// is left as it is in every one of these cases. [`ApiError::InvalidInput`] for a time outside 2000 to 2199.
    #[uniffi::constructor]
    pub fn open(path: &str, language: &str, now: Moment) -> ApiResult<Arc<Self>> {
        let words = spoken(language);
        let open = || -> Result<_, Error> {
            let now = now.try_into()?;
            let mut log = Log::open_sound(path, now)?;
            let mut asked = Log::open_sound(path, now)?;
            log.until_set(words.unset());
            asked.until_set(words.unset());
            let words = Words::of(&log.wearer()?);
            // Nothing is left of whatever was in it, which a new log must not hide.
            let damage = log.was_empty().then(|| words.was_empty().to_owned());
            Ok((log.revision()?, log, asked, words, damage))
        };
        let (mark, log, asked, words, damage) = open().map_err(|error| ApiError::of(&error, words))?;
        Ok(Arc::new(Self {
            shared: Arc::new(Shared {
                log: Mutex::new(Some(log)),
                asked: Mutex::new(Some(asked)),
                closed: AtomicBool::new(false),
                looked_through: AtomicBool::new(false),
                damage: Mutex::new(damage),
                to_keep: Mutex::new(Vec::new()),
                sent: Mutex::new(Vec::new()),
                last_shown: Mutex::new(None),
                words: Mutex::new(words),
                watcher: Mutex::new(None),
                due: Mutex::new(None),
                alerts_off: AtomicBool::new(false),
                notified: Mutex::new(Some(mark)),
            }),
        }))
    }

    /// Closes the log. Every later call fails with [`ApiError::Closed`]; closing again does nothing.
    ///
    /// # Errors
    /// None; it returns a result so that nothing can end the host app.
    pub fn close_log(&self) -> ApiResult<()> {
        self.shared.closed.store(true, Ordering::Release);
        drop(locked(&self.shared.asked).take());
        let mut log = locked(&self.shared.log).take();
        if let Some(open) = log.as_mut() {
            self.shared.keep_waiting(open);
        }
        drop(log);
        *locked(&self.shared.watcher) = None;
        self.shared.set_due(None);
        Ok(())
    }

    /// Whether the log can only be read, because of its file, its folder or the disk.
    ///
    /// # Errors
    /// [`ApiError::Closed`].
    pub fn is_read_only(&self) -> ApiResult<bool> {
        self.shared.with(|log| Ok(log.is_read_only()))
    }

    /// What is wrong with the log, for the wearer, if damage was found until now: what is shown is then made of what is sound, and
    /// entries may be missing. Nothing, where none was found. Ask it after whatever was shown.
    ///
    /// # Errors
    /// [`ApiError::Closed`].
    pub fn damage(&self) -> ApiResult<Option<String>> {
        self.shared.is_open()?;
        Ok(self.shared.damage())
    }

    /// Sets who is notified of changes and of prompts that are due; nobody, where nothing is given.
    ///
    /// # Errors
    /// [`ApiError::Closed`].
    pub fn watch(&self, watcher: Option<Arc<dyn Watcher>>) -> ApiResult<()> {
        self.shared.is_open()?;
        *locked(&self.shared.watcher) = watcher;
        Ok(())
    }

    /// Call it when the app comes to the front, and about once a minute while it is there: the core has no clock and no
    /// thread of its own. Notifies the watcher of changes made through other companions or programs, and of a prompt that is
    /// due, once.
    ///
    /// # Errors
    /// [`ApiError::Closed`], also where the log's file was deleted, moved or replaced; `InvalidInput` for a time outside 2000 to
    /// 2199; those of reading.
    pub fn tick(&self, now: Moment) -> ApiResult<()> {
        let now: time::Moment = now.try_into().map_err(|error| self.shared.refused(&error))?;
        self.shared.is_open()?;
        let looked = || -> ApiResult<(bool, Option<Wearer>)> {
            // What works on the log just now brings its own news; a tick does not wait for it.
            let Some(mut log) = self.shared.free() else { return Ok((false, None)) };
            let open = log.as_mut().ok_or_else(|| ApiError::closed(self.shared.words()))?;
            if !open.is_in_place() {
                return Err(self.shared.refused(&Error::Gone { path: open.path().to_owned() }));
            }
            self.shared.keep_waiting(open);
            let news = self.shared.is_news(open);
            let wearer = if news { Some(open.wearer().map_err(|error| self.shared.refused(&error))?) } else { None };
            Ok((news, wearer))
        };
        let (news, wearer) = self.shared.guarded(looked)?;
        if let Some(wearer) = wearer {
            let words = Words::of(&wearer);
            let before = std::mem::replace(&mut *locked(&self.shared.words), words);
            if before != words {
                self.shared.notify(|watcher| watcher.settings_changed());
            }
        }
        if news {
            self.shared.notify(|watcher| watcher.log_changed());
        }
        let due = {
            let mut due = locked(&self.shared.due);
            if due.is_some_and(|due| due.at.unix_ms <= now.unix_ms()) { due.take() } else { None }
        };
        if let Some(due) = due {
            self.shared.notify(|watcher| watcher.prompt_due(due));
        }
        Ok(())
    }

    /// When to look again, as the newest prompt said. Set the device's own alarm by it: this companion forgets it when closed.
    ///
    /// # Errors
    /// [`ApiError::Closed`].
    pub fn due(&self) -> ApiResult<Option<Due>> {
        self.shared.is_open()?;
        Ok(*locked(&self.shared.due))
    }

    /// The log.
    ///
    /// # Errors
    /// [`ApiError::Closed`].
    pub fn log(&self) -> ApiResult<Arc<LogPart>> {
        self.part(|shared| LogPart { shared })
    }

    /// The prompt for whoever looks.
    ///
    /// # Errors
    /// [`ApiError::Closed`].
    pub fn check(&self) -> ApiResult<Arc<CheckPart>> {
        self.part(|shared| CheckPart { shared })
    }

    /// The screen with the prompt, by day and in the night.
    ///
    /// # Errors
    /// [`ApiError::Closed`].
    pub fn prompt_screens(&self) -> ApiResult<Arc<PromptScreens>> {
        self.part(|shared| PromptScreens { shared })
    }

    /// The screen with the log. `has_health` is as for [`EbbsteadCompanion::first_screens`].
    ///
    /// # Errors
    /// [`ApiError::Closed`].
    pub fn log_screens(&self, has_health: bool) -> ApiResult<Arc<LogScreens>> {
        self.part(|shared| LogScreens { shared, has_health })
    }

    /// The first start. `has_health` says whether the phone keeps health records that the shell can read.
    ///
    /// # Errors
    /// [`ApiError::Closed`].
    pub fn first_screens(&self, has_health: bool) -> ApiResult<Arc<FirstScreens>> {
        self.part(|shared| FirstScreens { shared, has_health })
    }

    /// The record of some days, reviewed.
    ///
    /// # Errors
    /// [`ApiError::Closed`].
    pub fn review(&self) -> ApiResult<Arc<ReviewPart>> {
        self.part(|shared| ReviewPart { shared })
    }

    /// What alerts were worth.
    ///
    /// # Errors
    /// [`ApiError::Closed`].
    pub fn alerts(&self) -> ApiResult<Arc<AlertsPart>> {
        self.part(|shared| AlertsPart { shared })
    }

    /// The pages of the record, from their list on. `folder` is one of the shell's own for files on their way out; it need not be there.
    ///
    /// # Errors
    /// [`ApiError::Closed`].
    pub fn record_pages(&self, folder: &str) -> ApiResult<Arc<RecordPages>> {
        self.part(|shared| RecordPages { shared, pages: Mutex::new(record::RecordPages::new(folder)) })
    }

    /// What is asked ahead: before sleep, a drive, movement.
    ///
    /// # Errors
    /// [`ApiError::Closed`].
    pub fn before(&self) -> ApiResult<Arc<BeforePart>> {
        self.part(|shared| BeforePart { shared })
    }

    /// What goes in and out of the log: devices nearby, files.
    ///
    /// # Errors
    /// [`ApiError::Closed`].
    pub fn exchange(&self) -> ApiResult<Arc<ExchangePart>> {
        self.part(|shared| ExchangePart { shared })
    }

    /// The wearer's settings.
    ///
    /// # Errors
    /// [`ApiError::Closed`].
    pub fn settings(&self) -> ApiResult<Arc<SettingsPart>> {
        self.part(|shared| SettingsPart { shared })
    }

    /// Short texts in the wearer's language, and amounts as typed and written in the wearer's unit.
    ///
    /// # Errors
    /// [`ApiError::Closed`].
    pub fn words(&self) -> ApiResult<Arc<WordsPart>> {
        self.part(|shared| WordsPart { shared })
    }
}

impl EbbsteadCompanion {
    fn part<T>(&self, make: impl FnOnce(Arc<Shared>) -> T) -> ApiResult<Arc<T>> {
        self.shared.is_open()?;
        Ok(Arc::new(make(Arc::clone(&self.shared))))
    }
}
