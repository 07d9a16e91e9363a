"""The `hatchnote` command. Heavy libraries load only inside the command that needs them.

Exit status: 0 done, 1 the work failed, 2 wrong use. Errors are one sentence on standard error.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

import click

from hatchnote import __version__
from hatchnote.errors import BadInput, HatchnoteError

if TYPE_CHECKING:
    from hatchnote.domain import Equipment

EXISTING = click.Path(path_type=Path)
DATA = click.option("--data", type=EXISTING, envvar="HATCHNOTE_DATA", default=None, help="The data folder.")


class _Group(click.Group):
    """Turns our errors into one sentence and exit status 1."""

    def invoke(self, ctx: click.Context) -> Any:
        try:
            return super().invoke(ctx)
        except HatchnoteError as error:
            click.echo(f"hatchnote: {error}", err=True)
            ctx.exit(1)
        except BrokenPipeError:
            sys.stderr.close()
            ctx.exit(1)
        except OSError as error:
            # The last net: a full disk, a missing right, a folder where a file should be.
            where = f"{error.filename}" if error.filename else "A file or the output"
            click.echo(
                f"hatchnote: {where} cannot be used ({error.strerror or error}); check it and try again.",
                err=True,
            )
            ctx.exit(1)


@click.group(cls=_Group, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="hatchnote")
def main() -> None:
    """Spoken notes and photos from the roof become a structured ticket."""
    from hatchnote.settings import publish

    publish()


# ---------------------------------------------------------------- the main job on files


@main.command()
@click.argument("sound", nargs=-1, type=EXISTING)
@click.option("--photo", "photos", multiple=True, type=EXISTING, help="A photo; repeat for more.")
@click.option("--notes", multiple=True, type=EXISTING, help="A typed note (UTF-8 text); repeat for more.")
@click.option("--equipment", multiple=True, metavar="TAG", help="A machine at the site, e.g. RTU-3; repeat.")
@click.option("--site", help="The site's name.")
@click.option("--technician", help="The technician's name.")
@click.option("--date", metavar="YYYY-MM-DD", help="The day of the visit; today when left out.")
@click.option(
    "--altitude-ft", type=click.FloatRange(-1500, 20_000), help="The site's height above sea level, in feet."
)
@click.option("--json", "as_json", is_flag=True, help="Print the ticket as JSON (hatchnote.ticket/1).")
@click.option("--pdf", type=EXISTING, help="Write the customer's document to this file.")
def ticket(
    sound: tuple[Path, ...],
    photos: tuple[Path, ...],
    notes: tuple[Path, ...],
    equipment: tuple[str, ...],
    site: str | None,
    technician: str | None,
    date: str | None,
    altitude_ft: float | None,
    as_json: bool,
    pdf: Path | None,
) -> None:
    """Make a ticket from SOUND files, photos and typed notes. Needs no server."""
    if not (sound or notes or photos):
        raise click.UsageError("Give at least one SOUND file, --notes file or --photo.")
    if altitude_ft is not None and altitude_ft != altitude_ft:
        raise click.BadParameter("nan is no height; give feet above sea level.", param_hint="--altitude-ft")
    if pdf is not None and not pdf.parent.is_dir():
        raise BadInput(
            f"There is no folder {pdf.parent} for the document; make it first, or name another place."
        )
    from hatchnote.tickets.document import to_json
    from hatchnote.tickets.main_job import Job, ticket_from_files

    job = Job(
        sounds=sound,
        notes=notes,
        photos=photos,
        equipment=_equipment(equipment),
        site=site,
        technician=technician,
        date=_day(date),
        altitude_ft=altitude_ft,
    )
    with _progress() as progress:
        made = ticket_from_files(job, progress=progress)
    document = to_json(made)
    if pdf is not None:
        _write_pdf(pdf, document, photos)
    if as_json:
        _print_json(document)
    elif pdf is None:
        from hatchnote.tickets.terminal import show

        click.echo(show(made))


@main.command()
@click.argument("file", default="-", type=EXISTING)
@click.option("--equipment", multiple=True, metavar="TAG", help="A machine at the site, e.g. RTU-3; repeat.")
@click.option("--json", "as_json", is_flag=True, help="Print the facts as a ticket without sound.")
@click.option("--explain", is_flag=True, help="Show the text marked up: what was read from where, and why.")
def extract(file: Path, equipment: tuple[str, ...], as_json: bool, explain: bool) -> None:
    """Read typed or transcribed text from FILE (or - for standard input) into facts."""
    import datetime as dt
    import uuid

    from hatchnote.domain import Transcript, Visit
    from hatchnote.tickets.document import to_json
    from hatchnote.tickets.main_job import read_all, ticket_from_facts

    transcript = Transcript.from_text(_read_text(file))
    known = _equipment(equipment)
    facts = read_all([transcript], known)
    if explain:
        from hatchnote.notes.explain import explain as marked_up

        click.echo(marked_up(transcript, facts))
        if not as_json:
            return
    visit = Visit(date=dt.date.today().isoformat())
    made = ticket_from_facts([transcript], facts, id=str(uuid.uuid4()), visit=visit)
    if as_json:
        _print_json(to_json(made))
    else:
        from hatchnote.tickets.terminal import show

        click.echo(show(made))


@main.command()
@click.argument("sound", type=EXISTING)
@click.option(
    "--equipment", multiple=True, metavar="TAG", help="A machine at the site; primes the recogniser."
)
@click.option("--language", default="en", show_default=True, help="Readings are read in English only.")
@click.option("--json", "as_json", is_flag=True, help="Print words with times and probabilities.")
def transcribe(sound: Path, equipment: tuple[str, ...], language: str, as_json: bool) -> None:
    """Turn SOUND into words with times and probabilities."""
    if not sound.is_file():
        raise BadInput(f"There is no sound file at {sound}; check the name.")
    from hatchnote.speech import transcribe as listen

    with _progress() as progress:
        heard = listen(
            sound,
            equipment,
            language=language,
            id=sound.stem,
            progress=lambda done: progress(f"listening to {sound.name}", done) if progress else None,
        )
    for warning in heard.warnings:
        click.echo(f"hatchnote: {warning}", err=True)
    if as_json:
        from hatchnote.tickets.document import dictation_json

        _print_json(dictation_json(heard))
    else:
        click.echo(heard.text)


# ---------------------------------------------------------------- the speech model


@main.group()
def models() -> None:
    """The speech model's files."""


@models.command("verify")
def models_verify() -> None:
    """Compare every file with its pinned SHA-256."""
    from hatchnote.speech.models import find_model, pinned_models, verify
    from hatchnote.speech.settings import ListenSettings

    for line in verify():
        click.echo(line)
    chosen = ListenSettings.from_environment()
    for name in (chosen.model, chosen.second_model):
        if name and name != "none" and name not in pinned_models():
            click.echo(f"{name}: {find_model(name)} (your own choice: there is no digest to compare with)")


@models.command("install")
def models_install() -> None:
    """Put the model's files together in the cache folder and verify them."""
    from hatchnote.speech.models import install

    for line in install():
        click.echo(line)


# ---------------------------------------------------------------- the server


@main.command()
@DATA
@click.option("--host", default=None, help="Address to listen on; 127.0.0.1 when left out.")
@click.option("--port", type=click.IntRange(1, 65535), default=None, help="Port; 8000 when left out.")
@click.option(
    "--lan", is_flag=True, help="Listen on the local network, and explain what a phone needs for it."
)
@click.option("--no-worker", is_flag=True, help="Start no worker; recordings wait for `hatchnote worker`.")
def serve(data: Path | None, host: str | None, port: int | None, lan: bool, no_worker: bool) -> None:
    """Run the server. No other process is needed."""
    from hatchnote.serve import run

    run(data=data, host=host, port=port, lan=lan, worker=not no_worker)


@main.command()
@DATA
@click.option("--server", default=None, help="Work for the server at this address instead of a data folder.")
def worker(data: Path | None, server: str | None) -> None:
    """Run a queue worker, on this or another machine."""
    from hatchnote.serve import run_worker

    run_worker(data=data, server=server)


@main.command()
@DATA
@click.option("--host", default=None, help="Address to listen on; 127.0.0.1 when left out.")
@click.option("--port", type=click.IntRange(1, 65535), default=8000, show_default=True)
def demo(data: Path | None, host: str | None, port: int) -> None:
    """Load the sample scenario into a fresh data folder, transcribing its sound, and serve it."""
    from hatchnote.demo import run

    run(data=data, host=host, port=port)


@main.group()
def users() -> None:
    """Accounts."""


@users.command("add")
@click.argument("name")
@click.option("--role", type=click.Choice(["technician", "office", "administrator"]), default="technician")
@click.option("--full-name", default=None)
@click.password_option(envvar="HATCHNOTE_PASSWORD")
@DATA
def users_add(name: str, role: str, full_name: str | None, password: str, data: Path | None) -> None:
    """Add an account."""
    from hatchnote.accounts import add

    add(data, name=name, role=cast(Any, role), full_name=full_name, password=password)
    click.echo(f"{name} can sign in as {role}.")


@users.command("list")
@DATA
def users_list(data: Path | None) -> None:
    """List accounts."""
    from hatchnote.accounts import listing

    for row in listing(data):
        click.echo(f"{row.name}\t{row.role}\t{row.full_name or ''}\t{'active' if row.active else 'closed'}")


@users.command("reset")
@click.argument("name")
@click.password_option(envvar="HATCHNOTE_PASSWORD")
@DATA
def users_reset(name: str, password: str, data: Path | None) -> None:
    """Give an account a new password and sign it out everywhere."""
    from hatchnote.accounts import reset

    reset(data, name=name, password=password)
    click.echo(f"{name} has a new password and is signed out everywhere.")


@main.command()
@click.argument("file", type=EXISTING)
@DATA
def backup(file: Path, data: Path | None) -> None:
    """Write everything to FILE while the server runs."""
    from hatchnote.store.backup import write

    click.echo(write(data, file))


@main.command()
@click.argument("file", type=EXISTING)
@DATA
def restore(file: Path, data: Path | None) -> None:
    """Put back what `hatchnote backup` wrote, into an empty data folder."""
    from hatchnote.store.backup import read

    click.echo(read(data, file))


# ---------------------------------------------------------------- helpers


def _equipment(tags: tuple[str, ...]) -> list[Equipment]:
    from hatchnote.domain import Equipment

    return [Equipment(tag.strip()) for tag in tags if tag.strip()]


def _day(text: str | None) -> str | None:
    if text is None:
        return None
    import datetime as dt

    try:
        return dt.date.fromisoformat(text).isoformat()
    except ValueError:
        raise click.BadParameter(f"{text} is no date; write it as 2026-03-04.", param_hint="--date") from None


def _read_text(file: Path) -> str:
    try:
        data = sys.stdin.buffer.read() if str(file) == "-" else file.read_bytes()
        return data.decode("utf-8")
    except FileNotFoundError:
        raise BadInput(f"There is no text file at {file}; check the name.") from None
    except UnicodeDecodeError:
        raise BadInput(f"{file} is not UTF-8 text; save it as UTF-8 and try again.") from None
    except OSError as error:
        raise BadInput(f"{file} cannot be read ({error.strerror}).") from None


def _print_json(document: dict[str, Any]) -> None:
    click.echo(json.dumps(document, ensure_ascii=False, indent=1))


def _write_pdf(path: Path, document: dict[str, Any], photos: tuple[Path, ...]) -> None:
    import hashlib

    from hatchnote.export import pdf

    by_digest = {hashlib.sha256(data).hexdigest(): data for data in (p.read_bytes() for p in photos)}
    try:
        path.write_bytes(pdf(document, by_digest))
    except OSError as error:
        raise BadInput(f"{path} cannot be written ({error.strerror}); choose another place.") from error


@contextmanager
def _progress() -> Iterator[Any]:
    """A progress bar on a terminal; nothing at all elsewhere."""
    if not sys.stderr.isatty():
        yield None
        return
    with click.progressbar(length=1000, file=sys.stderr, label="starting") as bar:

        def tell(what: str, done: float) -> None:
            bar.label = what
            bar.update(max(0, int(done * 1000) - bar.pos))

        yield tell
