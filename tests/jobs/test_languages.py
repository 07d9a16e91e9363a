"""Another language than English: the words are written down, nothing is read out of them, and the draft says so."""

import subprocess

import pytest

from hatchnote.domain import Facts, Ticket, Transcript, Visit, Word
from hatchnote.errors import BadInput
from hatchnote.jobs.asking import ask_to_listen
from hatchnote.jobs.desk import LocalDesk
from hatchnote.notes import read_notes
from hatchnote.settings import Settings
from hatchnote.speech import transcribe
from hatchnote.speech.settings import ListenSettings
from hatchnote.store import recordings, tickets
from hatchnote.tickets.terminal import show

SAID = "La presión de succión es ciento dieciocho. Cambié el contactor y limpié el filtro."


class Silent:
    def ring(self):
        pass


def test_the_setting_is_read_and_checked():
    assert ListenSettings.from_environment({}).language == "en"
    assert ListenSettings.from_environment({"HATCHNOTE_LANGUAGE": "es"}).language == "es"
    with pytest.raises(BadInput, match="HATCHNOTE_LANGUAGE"):
        ListenSettings.from_environment({"HATCHNOTE_LANGUAGE": "Spanish"})


def test_what_looks_like_a_reading_in_another_language_is_none():
    words = tuple(
        Word(w, i * 0.5, i * 0.5 + 0.4, 0.9) for i, w in enumerate(["suction", "pressure", "118", "psig"])
    )
    assert read_notes(Transcript(words)).readings
    assert read_notes(Transcript(words, language="es")) == Facts()


def test_on_the_command_line_it_is_said_once_too():
    told = Transcript((Word("hola"),), language="es", warnings=("Readings are read in English only.",))
    ticket = Ticket("t", "draft", Visit("2026-03-04"), (), (told, told))
    assert show(ticket).count("English only") == 1


@pytest.mark.speech
@pytest.mark.voices
@pytest.mark.slow
def test_spanish_is_written_down_and_the_draft_says_what_was_not_done(
    store, technician, recorded, tmp_path, monkeypatch
):
    monkeypatch.setenv("HATCHNOTE_LANGUAGE", "es")
    sound = tmp_path / "said.wav"
    subprocess.run(["espeak-ng", "-v", "es", "-s", "130", "-w", sound, SAID], check=True)
    recording = recorded(technician("ana"), sound=sound.read_bytes())
    ask_to_listen(store, Silent(), recording)
    desk = LocalDesk(store, Settings(data=store.folder), "here")
    claim = desk.claim()
    work = desk.listening(claim, tmp_path)
    heard = transcribe(work.files, work.vocabulary, id=recording)
    assert heard.language == "es" and heard.second == ()
    assert {"contactor", "filtro"} & {w.text.strip(".,").lower() for w in heard.words}
    assert desk.deliver(claim, heard, 1.0)
    ticket = recordings.recording(store, recording)["ticket_id"]
    document = tickets.revision(store, ticket, 1).document
    [dictation] = document["dictations"]
    assert dictation["language"] == "es"
    assert any("English only" in warning for warning in dictation["warnings"])
    assert not any(m["readings"] or m["work"] for m in document["equipment"])
