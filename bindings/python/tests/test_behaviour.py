"""What the bindings promise of every call, from Python."""

import threading

import pytest

import ebbstead as eb

NOW = eb.Moment(unix_ms=1_772_359_200_000, offset_minutes=60)


def later(minutes):
    return eb.Moment(unix_ms=NOW.unix_ms + minutes * 60_000, offset_minutes=60)


@pytest.fixture
def path(tmp_path):
    return str(tmp_path / "log.ebb")


def opened(path):
    return eb.EbbsteadCompanion.open(path, "en", NOW)


def test_closed_and_reopened(path):
    companion = opened(path)
    log = companion.log()
    log.record(eb.EntryKind.NOTE("kept"), NOW, NOW)
    companion.close_log()
    companion.close_log()
    with pytest.raises(eb.ApiError.Closed):
        log.list(NOW, NOW, False, False)
    with pytest.raises(eb.ApiError.Closed):
        companion.check()
    assert [one.entry.text for one in opened(path).log().list(NOW, NOW, False, False)]


def test_a_language_is_a_tag_and_a_draft_is_not_offered(path):
    assert [(one.tag, one.name) for one in eb.languages()] == [("en", "English"), ("de", "Deutsch")]
    companion = opened(path)
    wearer = companion.settings().wearer()
    assert (wearer.language, companion.words().draft()) == ("en", None)
    with pytest.raises(eb.ApiError.InvalidInput) as refused:
        wearer.language = "fr"
        companion.settings().set_wearer(wearer, NOW)
    assert refused.value.field == "language"
    # Spanish is a draft until somebody of the trade has read it.
    wearer.language = "es"
    companion.settings().set_wearer(wearer, NOW)
    mark = companion.words().draft()
    assert mark == "borrador, sin revisar"
    assert mark in companion.settings().form({}).heading and mark in eb.help_page("es", None, None).heading


def test_errors_name_the_field_and_nothing_of_the_wearers(path):
    log = opened(path).log()
    with pytest.raises(eb.ApiError.InvalidInput) as refused:
        log.record(eb.EntryKind.METER_CHECK(7654.0), NOW, NOW)
    assert refused.value.field == "glucose"
    assert "7654" not in str(refused.value) and "7654" not in refused.value.advice
    with pytest.raises(eb.ApiError.NotFound):
        log.retract("no identity", NOW)


def test_threads_share_a_companion(path):
    companion = opened(path)
    failed = []

    def work(number):
        try:
            for n in range(5):
                companion.log().record(eb.EntryKind.NOTE(f"{number} {n}"), NOW, NOW)
                companion.check().ask(eb.Question(now=NOW, occasion=eb.Occasion.LOOK, feels=None, meter_mg_dl=None))
        except Exception as error:  # whatever it is, it fails the test
            failed.append(error)

    threads = [threading.Thread(target=work, args=(number,)) for number in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert not failed
    assert len(companion.log().list(NOW, NOW, False, False)) == 20


class Recorder(eb.Watcher):
    def __init__(self):
        self.calls = []

    def log_changed(self):
        self.calls.append("log")

    def settings_changed(self):
        self.calls.append("settings")

    def prompt_due(self, due):
        self.calls.append(due.at.unix_ms)


def test_the_watcher_is_notified_of_changes_made_elsewhere_and_of_a_prompt_that_is_due(path):
    here, there, recorder = opened(path), opened(path), Recorder()
    here.watch(recorder)
    there.log().record(eb.EntryKind.METER_CHECK(65.0), NOW, NOW)
    here.tick(NOW)
    assert recorder.calls == ["log"]
    answer = here.check().ask(eb.Question(now=NOW, occasion=eb.Occasion.LOOK, feels=None, meter_mg_dl=65.0))
    minutes = answer.prompt.look_again_minutes
    here.tick(later(minutes - 1))
    assert recorder.calls == ["log"]
    here.tick(later(minutes))
    here.tick(later(minutes + 1))
    assert recorder.calls == ["log", later(minutes).unix_ms]


class Broken(Recorder):
    def log_changed(self):
        raise RuntimeError("the shell's own mistake")


def test_a_watcher_that_fails_harms_nothing(path):
    companion = opened(path)
    companion.watch(Broken())
    companion.log().record(eb.EntryKind.NOTE("kept"), NOW, NOW)
    assert len(companion.log().list(NOW, NOW, False, False)) == 1
