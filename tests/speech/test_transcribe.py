"""The real recogniser on real sound: words where somebody speaks, none where nobody does."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from hatchnote.domain import Transcript
from hatchnote.errors import BadInput
from hatchnote.speech import transcribe
from hatchnote.speech.audio import RATE, decode
from hatchnote.speech.live import Listener
from hatchnote.speech.settings import ListenSettings

pytestmark = pytest.mark.speech

DATA = Path(__file__).parent / "data"
NOISES = sorted(DATA.glob("noise-*.flac"))
ONE = ListenSettings(second_model="none")


def test_words_have_times_in_order_and_probabilities(heard: Transcript):
    assert heard.id == "d1" and heard.duration_s == pytest.approx(17.975, abs=0.01)
    assert len(heard.words) > 20
    for word in heard.words:
        assert 0 <= word.start <= word.end <= heard.duration_s + 0.1
        assert 0 < word.p <= 1
    starts = [w.start for w in heard.words]
    assert starts == sorted(starts)


def test_what_was_said_is_heard(heard: Transcript):
    text = heard.text.lower()
    for figure in ("118", "340", "10.2", "11.4"):
        assert figure in text
    for word in ("suction", "liquid", "coil sensor", "capacitor", "microfarad"):
        assert word in text


def test_every_number_is_heard_twice(heard: Transcript):
    for figure in ("118", "340", "10.2", "11.4"):
        word = next(w for w in heard.words if figure in w.text)
        (again,) = [s for s in heard.second if s.start <= word.start and word.end <= s.end + 0.01]
        assert figure in again.text
        assert again.listener.startswith("tiny.en, unprimed")
    for a, b in pairwise(heard.second):
        assert a.end <= b.start + 0.01, "no number is answered for twice"


def test_slices_give_the_same_words_as_the_whole(heard: Transcript, samples):
    listener = Listener(["RTU-3"])
    early = []
    for at in range(0, len(samples), RATE):
        early += listener.feed(samples[at : at + RATE])
    whole = listener.finish()
    assert whole.text == heard.text
    assert [s.text for s in whole.second] == [s.text for s in heard.second]
    assert list(whole.words[: len(early)]) == early and len(early) > 5, (
        "words given out early are never taken back"
    )


def test_segment_files_are_one_dictation(encode, samples, heard: Transcript):
    import soundfile

    cut = int(7.6 * RATE)
    a = encode(samples[:cut], "webm", "libopus")
    b = a.with_name("b.wav")
    soundfile.write(b, samples[cut:], RATE)
    joined = transcribe([a, b], ["RTU-3"], settings=ONE)
    assert joined.duration_s == pytest.approx(heard.duration_s, abs=0.2)
    for figure in ("118", "340", "10.2", "11.4"):
        assert figure in joined.text


def test_silence_has_no_words():
    for seconds in (0.3, 5, 90):
        listener = Listener(settings=ONE)
        listener.feed(np.zeros(int(seconds * RATE), dtype=np.float32))
        assert listener.finish().words == ()


@pytest.mark.parametrize("path", NOISES, ids=lambda p: p.stem)
def test_noise_has_no_words(path: Path):
    assert transcribe(path, ["RTU-3"]).words == ()


@pytest.mark.parametrize("path", NOISES[:4], ids=lambda p: p.stem)
def test_the_guards_hold_even_where_noise_is_taken_for_speech(path: Path):
    """The voice detector set aside: the decoder alone must not be believed over noise."""
    from hatchnote.speech.hearing import Ear
    from hatchnote.speech.models import default_model
    from hatchnote.speech.priming import priming_text
    from hatchnote.speech.recognise import load

    ear = Ear(load(default_model(), ONE), ONE, prompt=priming_text(["RTU-3"]))
    (h,) = ear.hear([decode(path).samples], [0.0])
    assert h is None or h.words == ()


def test_the_voice_is_found_between_stretches_of_noise(samples):
    noise = decode(NOISES[-1]).samples * 0.3
    silence = np.zeros(3 * RATE, dtype=np.float32)
    listener = Listener(["RTU-3"], settings=ONE)
    listener.feed(np.concatenate([noise, silence, samples, silence, noise]))
    heard = listener.finish()
    assert "118" in heard.text and "11.4" in heard.text
    began = len(noise) / RATE + 3
    assert heard.words[0].start > began - 0.5
    assert heard.words[-1].end < began + len(samples) / RATE + 0.5


def test_progress_rises_to_one(dictation: Path):
    seen: list[float] = []
    transcribe(dictation, settings=ONE, progress=seen.append)
    assert seen == sorted(seen) and seen[-1] == 1.0 and len(seen) >= 2


def test_a_cut_file_is_transcribed_with_a_warning(encode, samples):
    path = encode(samples, "flac", "flac")
    data = path.read_bytes()
    path.write_bytes(data[: int(len(data) * 0.6)])
    heard = transcribe(path, ["RTU-3"], settings=ONE)
    assert "118" in heard.text
    assert any("breaks off" in w for w in heard.warnings)


def test_a_language_the_model_does_not_know(dictation: Path):
    with pytest.raises(BadInput, match="does not know the language 'tlh'"):
        transcribe(dictation, language="tlh", settings=ONE)


def test_settings_come_from_the_environment():
    env = {"HATCHNOTE_DEVICE": "cpu", "HATCHNOTE_COMPUTE": "float32", "HATCHNOTE_SPEECH_MODEL": "tiny.en"}
    s = ListenSettings.from_environment(env)
    assert (s.device, s.compute, s.model, s.threads) == ("cpu", "float32", "tiny.en", 0)
    with pytest.raises(BadInput, match="HATCHNOTE_DEVICE"):
        ListenSettings.from_environment({"HATCHNOTE_DEVICE": "tpu"})
    with pytest.raises(BadInput, match="HATCHNOTE_THREADS"):
        ListenSettings.from_environment({"HATCHNOTE_THREADS": "many"})
