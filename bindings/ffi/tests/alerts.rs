//! The alerts and the screen that calls, as a shell uses them.

#![allow(clippy::unwrap_used, clippy::panic)] // a test that cannot go on fails

use std::sync::Arc;

use ebbstead_ffi::{
    AlertHow, AlertLines, AlertOf, AlertPlan, ApiError, EbbsteadCompanion, EntryKind, Label, Moment, Occasion,
    PromptPart, PromptState, PromptTap, ReadingAt, RingChoice, Wearer, help_page, label_without_log, step_failed,
};

/// Noon.
const NOW: Moment = Moment { unix_ms: 1_772_362_800_000, offset_minutes: 60 };

fn later(minutes: i64) -> Moment {
    Moment { unix_ms: NOW.unix_ms + minutes * 60_000, ..NOW }
}

fn opened(folder: &tempfile::TempDir) -> Arc<EbbsteadCompanion> {
    let path = folder.path().join("log.ebb");
    EbbsteadCompanion::open(path.to_str().unwrap(), "en", NOW).unwrap()
}

fn read(companion: &EbbsteadCompanion, readings: &[(i64, f64)], now: Moment) {
    let readings = readings.iter().map(|&(minutes, mg_dl)| ReadingAt { at: later(minutes), mg_dl }).collect();
    companion.log().unwrap().record_readings("sensor 7", readings, now).unwrap();
}

#[test]
fn a_low_rings_once_with_the_answer_and_silence_rings_later() {
    let folder = tempfile::tempdir().unwrap();
    let companion = opened(&folder);
    let alerts = companion.alerts().unwrap();
    let none = alerts.step(None, NOW, None).unwrap();
    assert!(none.ring.is_none() && none.again_at.is_none() && none.standing.is_none());
    read(&companion, &[(-10, 90.0), (-5, 78.0), (0, 66.0)], NOW);
    let step = alerts.step(Some(none.state), NOW, None).unwrap();
    let ring = step.ring.unwrap();
    assert_eq!((ring.of, ring.how, ring.again), (AlertOf::Low, AlertHow::Loud, false));
    let answer = ring.answer.unwrap();
    assert_eq!(ring.title, answer.said.verdict);
    assert!(ring.text.starts_with(&answer.said.sentence) && ring.until.unix_ms > NOW.unix_ms);
    assert_eq!(step.again_at, Some(later(30)), "half an hour after the newest reading");
    assert_eq!(step.standing.as_deref(), Some("66 mg/dL · 12:00"));
    // What was shown is kept, as everything that is shown.
    let kept = companion.log().unwrap().list(later(-1), later(1), false, true).unwrap();
    assert!(kept.iter().any(|one| matches!(one.entry.what, EntryKind::Prompted { .. })));
    let quiet = alerts.step(Some(step.state), later(1), None).unwrap();
    assert!(quiet.ring.is_none());
    let silent = alerts.step(Some(quiet.state), later(30), None).unwrap();
    assert_eq!(silent.ring.unwrap().of, AlertOf::Lost);
}

/// A phone that may not run then has a notification come by itself.
#[test]
fn silence_that_was_set_ahead_rings_no_second_time_unless_a_late_reading_fills_it() {
    for late in [false, true] {
        let folder = tempfile::tempdir().unwrap();
        let companion = opened(&folder);
        let alerts = companion.alerts().unwrap();
        read(&companion, &[(-10, 120.0), (-5, 119.0), (0, 118.0)], NOW);
        let step = alerts.step(None, NOW, None).unwrap();
        let ahead = step.again_at.unwrap();
        let due = companion.due().unwrap();
        let silence = alerts.silence(ahead).unwrap();
        assert_eq!(companion.due().unwrap(), due, "nobody was shown anything yet");
        assert_eq!((ahead, silence.title.as_str()), (later(30), "Check first"));
        assert_eq!(silence.answers[0].what, RingChoice::Checked);
        assert_eq!((silence.how, silence.until), (AlertHow::Loud, later(35)), "as it would ring then");
        assert_eq!((silence.of, silence.at), (AlertOf::Lost, ahead));
        let prompted = || {
            let kept = companion.log().unwrap().list(later(-1), later(40), false, true).unwrap();
            kept.iter().filter(|one| matches!(one.entry.what, EntryKind::Prompted { .. })).count()
        };
        assert_eq!(prompted(), 0, "nothing was shown yet");
        if late {
            read(&companion, &[(10, 117.0), (20, 116.0)], later(31));
        }
        let then = alerts.step(Some(step.state.clone()), later(31), Some(ahead)).unwrap();
        assert!(then.ring.is_none(), "{then:?}");
        assert_eq!(prompted(), usize::from(!late), "what it rang was shown");
        assert_eq!(companion.due().unwrap(), due, "what it said of when to look again is past");
        if late {
            assert_eq!(alerts.step(Some(then.state), later(50), None).unwrap().ring.unwrap().of, AlertOf::Lost);
        } else {
            let unknown = alerts.step(Some(step.state), later(31), None).unwrap();
            assert_eq!(unknown.ring.unwrap().of, AlertOf::Lost, "without it, it rings here");
        }
    }
}

#[test]
fn a_snooze_holds_back_all_but_the_floor_and_lost_state_only_rings_once_more() {
    let folder = tempfile::tempdir().unwrap();
    let companion = opened(&folder);
    let alerts = companion.alerts().unwrap();
    read(&companion, &[(-5, 68.0), (0, 66.0)], NOW);
    let state = alerts.step(None, NOW, None).unwrap().state;
    assert!(matches!(alerts.snooze(Some(state.clone()), 3.0, NOW), Err(ApiError::InvalidInput { .. })));
    let state = alerts.snooze(Some(state), 60.0, NOW).unwrap();
    read(&companion, &[(5, 64.0)], later(5));
    let step = alerts.step(Some(state), later(5), None).unwrap();
    assert!(step.ring.is_none());
    read(&companion, &[(10, 52.0)], later(10));
    let ring = alerts.step(Some(step.state), later(10), None).unwrap().ring.unwrap();
    assert_eq!(ring.of, AlertOf::Floor);
    for lost in [None, Some(String::new()), Some("{\"newest\": 7}".to_owned())] {
        assert_eq!(alerts.step(lost, later(10), None).unwrap().ring.unwrap().of, AlertOf::Floor);
    }
}

#[test]
fn a_kept_plan_is_followed_and_the_floor_is_in_every_plan() {
    let folder = tempfile::tempdir().unwrap();
    let companion = opened(&folder);
    let alerts = companion.alerts().unwrap();
    assert!(!companion.settings().unwrap().are_set().unwrap());
    let mut plan = alerts.own_plan().unwrap();
    (plan.day.low_mg_dl, plan.day.high_mg_dl, plan.day.lost_after_minutes) = (85.0, None, Some(20.0));
    alerts.keep_plan(Some(plan), NOW).unwrap();
    // Other settings leave it alone.
    let settings = companion.settings().unwrap();
    settings.set_wearer(settings.wearer().unwrap(), NOW).unwrap();
    assert_eq!(alerts.own_plan().unwrap(), plan);
    // What rings at a line moves with it.
    settings.set_wearer(Wearer { low_line_mg_dl: 75.0, ..settings.wearer().unwrap() }, NOW).unwrap();
    let moved = alerts.own_plan().unwrap();
    assert!((moved.day.low_mg_dl, moved.night.low_mg_dl) == (85.0, 75.0), "{moved:?}");
    read(&companion, &[(-5, 90.0), (0, 84.0)], NOW);
    let step = alerts.step(None, NOW, None).unwrap();
    assert_eq!((step.ring.unwrap().of, step.again_at), (AlertOf::Low, Some(later(20))));
    plan.night.low_mg_dl = 50.0;
    assert!(matches!(alerts.keep_plan(Some(plan), NOW), Err(ApiError::InvalidInput { .. })));
    alerts.keep_plan(None, NOW).unwrap();
    assert!((alerts.own_plan().unwrap().day.low_mg_dl - 75.0).abs() < 1e-9);
}

#[test]
fn at_night_a_low_fills_the_screen_and_the_answer_is_for_who_was_woken() {
    let folder = tempfile::tempdir().unwrap();
    let companion = opened(&folder);
    read(&companion, &[(-725, 70.0), (-720, 66.0)], NOW);
    let ring = companion.alerts().unwrap().step(None, later(-719), None).unwrap().ring.unwrap();
    assert_eq!(ring.how, AlertHow::FullScreen);
    let kept = companion.log().unwrap().list(later(-720), later(-718), false, true).unwrap();
    let occasion = kept.iter().find_map(|one| match &one.entry.what {
        EntryKind::Prompted { shown: prompted } => Some(prompted.occasion),
        _ => None,
    });
    assert_eq!(occasion, Some(Occasion::Wake));
}

/// Midnight of the fixtures: 720 minutes before them.
#[test]
fn a_ring_of_the_night_opens_the_night_for_who_was_woken_and_an_old_one_is_not_answered_as_now() {
    let folder = tempfile::tempdir().unwrap();
    let companion = opened(&folder);
    let alerts = companion.alerts().unwrap();
    let screens = companion.prompt_screens().unwrap();
    let front = |alerts: &str| PromptState { alerts: Some(alerts.to_owned()), ..PromptState::default() };
    // A plan by which a low rings once.
    let AlertPlan { day, night } = alerts.own_plan().unwrap();
    let once = |lines| AlertLines { low_repeat_minutes: None, ..lines };
    alerts.keep_plan(Some(AlertPlan { day: once(day), night: once(night) }), later(-800)).unwrap();
    read(&companion, &[(-725, 70.0), (-720, 66.0)], NOW);
    let step = alerts.step(None, later(-720), None).unwrap();
    let ring = step.ring.unwrap();
    assert_eq!((ring.at, step.over), (later(-720), false));
    assert!(ring.left.iter().all(|offer| offer.opens), "{:?}", ring.left);

    let woken = screens.tapped(PromptTap::Look, front(&step.state), later(-718)).unwrap();
    assert!(woken.at_night && woken.state.woken == Some(ring.at), "{:?}", woken.state);
    let left = screens.tapped(PromptTap::LeaveNight, woken.state, later(-718)).unwrap();
    let left = screens.tapped(PromptTap::Refresh, left.state, later(-717)).unwrap();
    assert!(!left.at_night);
    let later_on = screens.tapped(PromptTap::Look, front(&step.state), later(-700)).unwrap();
    assert!(later_on.at_night && later_on.state.woken.is_none(), "{:?}", later_on.state);
    assert!(screens.unasked(front(&step.state), later(-700)).unwrap().at_night);

    let late = alerts.answered(RingChoice::Treated, Some(step.state.clone()), ring.at, later(-600)).unwrap();
    assert!(late.late.unwrap().contains("00:00"));
    let noted = |from, until| companion.log().unwrap().list(later(from), later(until), false, false).unwrap().len();
    assert_eq!(noted(-719, 0), 0);
    read(&companion, &[(-700, 65.0)], NOW);
    let left = alerts.step(Some(step.state), later(-700), None).unwrap();
    let again = left.left.unwrap();
    assert_eq!((left.ring.is_none(), again.at, &again.answers), (true, ring.at, &ring.left));
    let in_time = alerts.answered(RingChoice::Treated, Some(left.state), ring.at, later(-710)).unwrap();
    assert_eq!((in_time.late, noted(-719, 0)), (None, 1));
    assert!(alerts.step(Some(in_time.state), later(-699), None).unwrap().over);
}

/// Said once, and again after a step that was made between; the count lasts though an app is ended.
#[test]
fn a_step_that_goes_on_failing_is_said_and_tried_again() {
    let folder = tempfile::tempdir().unwrap();
    let alerts = opened(&folder).alerts().unwrap();
    let mut state = None;
    let fail = |state: &mut Option<String>| {
        let failed = step_failed(state.take(), NOW).unwrap();
        *state = Some(failed.state);
        (failed.again_at.unix_ms - NOW.unix_ms, failed.is_said)
    };
    let (soon, said, later) = ((15_000, false), (60_000, true), (60_000, false));
    assert_eq!([(); 4].map(|()| fail(&mut state)), [soon, soon, said, later]);
    state = Some(alerts.step(state.take(), NOW, None).unwrap().state);
    assert_eq!([(); 3].map(|()| fail(&mut state)), [soon, soon, said]);
}

#[test]
fn the_screen_says_when_alerts_cannot_ring() {
    let folder = tempfile::tempdir().unwrap();
    let companion = opened(&folder);
    let notices = |at_night: bool| {
        let screens = companion.prompt_screens().unwrap();
        let now = later(if at_night { -720 } else { 0 });
        let screen = screens.tapped(PromptTap::Look, PromptState::default(), now).unwrap();
        assert_eq!(screen.at_night, at_night);
        let said = screen.parts.iter().filter(|part| matches!(part, PromptPart::Notice { .. })).count();
        let allows =
            |part: &PromptPart| matches!(part, PromptPart::Press { button } if button.tap == PromptTap::AllowAlerts);
        assert_eq!(screen.parts.iter().any(allows), said > 0 && !at_night, "with the way to allow them");
        said
    };
    assert_eq!(notices(false), 0);
    companion.alerts().unwrap().set_can_ring(false).unwrap();
    assert_eq!((notices(false), notices(true)), (1, 1));
    companion.alerts().unwrap().set_can_ring(true).unwrap();
    assert_eq!(notices(false), 0);
}

/// Phones know 112 as an emergency number: 3GPP TS 22.101, clause 10.1.1.
#[test]
fn help_needs_no_log_and_dials_what_the_wearer_set() {
    let plain = help_page("de".to_owned(), None, None);
    assert_eq!(plain.calls.iter().map(|call| call.number.as_str()).collect::<Vec<_>>(), ["112"]);
    let folder = tempfile::tempdir().unwrap();
    let companion = opened(&folder);
    for label in [Label::LookNow, Label::HealthStays, Label::NoMedicalDevice] {
        let with_log = companion.words().unwrap().label(label).unwrap();
        assert_eq!(label_without_log("en".to_owned(), label).unwrap(), with_log);
    }
    let settings = companion.settings().unwrap();
    let mut wearer = settings.wearer().unwrap();
    (wearer.emergency_number, wearer.contact_number) = (Some("911".to_owned()), Some("+49 (0)30 55-501".to_owned()));
    settings.set_wearer(wearer.clone(), NOW).unwrap();
    let page = settings.help().unwrap();
    assert_eq!(page.calls.iter().map(|call| call.number.as_str()).collect::<Vec<_>>(), ["911", "+493055501"]);
    assert_eq!(page.calls[0].text, "Call 911");
    wearer.emergency_number = Some("*#06#".to_owned());
    let refused = settings.set_wearer(wearer, NOW).unwrap_err();
    assert!(matches!(refused, ApiError::InvalidInput { field, .. } if field == "emergency number"));
}
