"""The speech models' files: found, joined, checked against their pinned digests, never trusted unread.

`models/speech.toml` pins every file. The packages that carry them are never imported: their files are
found through the installed distribution's file list.
"""

from __future__ import annotations

import hashlib
import importlib.metadata
import json
import os
import tempfile
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from hatchnote.errors import BadInput, NoRoom
from hatchnote.places import MODELS, data_folder

_CHUNK = 1 << 20
NEEDED_IN_A_FOLDER = ("model.bin", "config.json")


@dataclass(frozen=True, slots=True)
class Part:
    """A file inside an installed distribution."""

    distribution: str
    version: str
    path: str


@dataclass(frozen=True, slots=True)
class PinnedFile:
    name: str
    sha256: str
    parts: tuple[Part, ...]


@dataclass(frozen=True, slots=True)
class PinnedModel:
    name: str
    title: str
    licence: str
    files: tuple[PinnedFile, ...]


@dataclass(frozen=True, slots=True)
class Checked:
    """A file whose bytes were compared with its pinned digest."""

    model: str
    file: str
    path: Path
    sha256: str

    def __str__(self) -> str:
        return f"{self.model}: {self.file} holds the pinned bytes (SHA-256 {self.sha256[:12]}…), {self.path}"


@lru_cache(maxsize=1)
def _catalogue() -> dict[str, object]:
    return tomllib.loads((data_folder(MODELS) / "speech.toml").read_text(encoding="utf-8"))


@lru_cache(maxsize=1)
def pinned_models() -> Mapping[str, PinnedModel]:
    """The models of models/speech.toml by name."""
    raw: dict[str, dict[str, object]] = _catalogue()["models"]  # type: ignore[assignment]
    return {name: _pinned(name, entry) for name, entry in raw.items()}


def _pinned(name: str, entry: dict[str, object]) -> PinnedModel:
    raw: dict[str, dict[str, object]] = entry["files"]  # type: ignore[assignment]
    files = tuple(
        PinnedFile(
            file,
            str(f["sha256"]),
            tuple(Part(p["distribution"], p["version"], p["path"]) for p in f["parts"]),  # type: ignore[attr-defined]
        )
        for file, f in raw.items()
    )
    return PinnedModel(name, str(entry["title"]), str(entry["licence"]), files)


def default_model(role: str = "first") -> str:
    """The pinned default for the "first" or the "second" listener."""
    defaults: dict[str, str] = _catalogue()["defaults"]  # type: ignore[assignment]
    return defaults[role]


def cache_folder(environ: Mapping[str, str] | None = None) -> Path:
    """Where joined files and the record of checked ones are kept; made if needed."""
    env = os.environ if environ is None else environ
    named = env.get("HATCHNOTE_CACHE")
    if named:
        folder = Path(named)
    else:
        base = env.get("XDG_CACHE_HOME")
        folder = (Path(base) if base else Path.home() / ".cache") / "hatchnote"
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as e:
        raise NoRoom(
            f"The cache folder {folder} cannot be made ({e.strerror}); set HATCHNOTE_CACHE to one that can."
        ) from e
    return folder


def find_model(name: str) -> str:
    """A folder (or a faster-whisper model name) that the recogniser can load.

    Pinned models are checked against their digests first; a folder must hold a converted model.
    Raises BadInput with one sentence naming the file and what to do.
    """
    model = pinned_models().get(name)
    if model is not None:
        return str(install_model(model))
    folder = Path(name).expanduser()
    if folder.is_dir():
        missing = [f for f in NEEDED_IN_A_FOLDER if not (folder / f).is_file()]
        if missing:
            raise BadInput(
                f"The folder {folder} is no speech model: {' and '.join(missing)} missing; "
                "name a folder in CTranslate2's Whisper format, or unset HATCHNOTE_SPEECH_MODEL."
            )
        return str(folder)
    if _looks_like_a_path(name):
        raise BadInput(
            f"There is no speech model folder {folder}; correct HATCHNOTE_SPEECH_MODEL or unset it."
        )
    return name


def _looks_like_a_path(name: str) -> bool:
    return name.startswith((".", "~", "/")) or "\\" in name or name.count("/") > 1


def install_model(model: PinnedModel) -> Path:
    """The model's folder with every file checked; parts are joined into the cache the first time."""
    stamps = _Stamps(cache_folder() / "checked.json")
    in_place = [_in_place(model, f) for f in model.files]
    if all(in_place) and len({p.parent for p in in_place if p}) == 1:
        for f, path in zip(model.files, in_place, strict=True):
            assert path is not None
            _check(model, f, path, stamps)
        folder = in_place[0].parent  # type: ignore[union-attr]
    else:
        folder = cache_folder() / "models" / model.name
        folder.mkdir(parents=True, exist_ok=True)
        for f in model.files:
            _place(model, f, folder / f.name, stamps)
    stamps.save()
    return folder


def verify(names: Iterable[str] | None = None) -> list[Checked]:
    """Read every byte of the pinned models again and compare; nothing remembered is believed.

    Raises BadInput for the first file that is missing or differs.
    """
    out: list[Checked] = []
    for name in names or pinned_models():
        model = pinned_models().get(name)
        if model is None:
            raise BadInput(
                f"There is no pinned model {name!r}; models/speech.toml has {', '.join(pinned_models())}."
            )
        folder = install_model(model)
        for f in model.files:
            path = folder / f.name
            found = _digest([path])
            if found != f.sha256:
                raise BadInput(_differs(model, f, path))
            out.append(Checked(model.name, f.name, path, found))
    return out


def install(names: Iterable[str] | None = None) -> list[Path]:
    """Join and check the pinned models, all of them or those named; the folders they are ready in."""
    chosen = list(names or pinned_models())
    unknown = [n for n in chosen if n not in pinned_models()]
    if unknown:
        raise BadInput(
            f"There is no pinned model {unknown[0]!r}; models/speech.toml has {', '.join(pinned_models())}."
        )
    return [install_model(pinned_models()[n]) for n in chosen]


def part_path(part: Part) -> Path:
    """Where an installed distribution keeps the part. Raises BadInput when it does not."""
    todo = f"run `make install`, or install {part.distribution}=={part.version}."
    try:
        files = importlib.metadata.distribution(part.distribution).files or []
    except importlib.metadata.PackageNotFoundError:
        raise BadInput(f"A part of the speech model is missing, {part.path}; {todo}") from None
    for f in files:
        if f.as_posix() == part.path:
            path = Path(str(f.locate()))
            if path.is_file():
                return path
    raise BadInput(f"A part of the speech model is missing, {part.path}; {todo}")


def _in_place(model: PinnedModel, file: PinnedFile) -> Path | None:
    if len(file.parts) != 1:
        return None
    path = part_path(file.parts[0])
    return path if path.name == file.name else None


def _check(model: PinnedModel, file: PinnedFile, path: Path, stamps: _Stamps) -> None:
    if stamps.holds(path, file.sha256):
        return
    if _digest([path]) != file.sha256:
        raise BadInput(_differs(model, file, path))
    stamps.add(path, file.sha256)


def _place(model: PinnedModel, file: PinnedFile, target: Path, stamps: _Stamps) -> None:
    """Bring the file into the cache whole, or not at all."""
    if stamps.holds(target, file.sha256):
        return
    sources = [part_path(p) for p in file.parts]
    digest = hashlib.sha256()
    handle, name = tempfile.mkstemp(dir=target.parent, prefix=f".{file.name}.")
    try:
        with os.fdopen(handle, "wb") as out:
            for source in sources:
                with source.open("rb") as data:
                    while block := data.read(_CHUNK):
                        digest.update(block)
                        out.write(block)
            out.flush()
            os.fsync(out.fileno())
        if digest.hexdigest() != file.sha256:
            raise BadInput(_differs(model, file, sources[0]))
        os.replace(name, target)
    except OSError as e:
        raise NoRoom(
            f"The speech model's {file.name} cannot be written to {target.parent} ({e.strerror})."
        ) from e
    finally:
        Path(name).unlink(missing_ok=True)
    stamps.add(target, file.sha256)


def _differs(model: PinnedModel, file: PinnedFile, path: Path) -> str:
    names = " and ".join(dict.fromkeys(f"{p.distribution}=={p.version}" for p in file.parts))
    return (
        f"The speech model {model.name} was not loaded: {path} does not have the pinned SHA-256 of {file.name}; "
        f"install {names} again."
    )


def _digest(paths: Iterable[Path]) -> str:
    digest = hashlib.sha256()
    for path in paths:
        with path.open("rb") as data:
            while block := data.read(_CHUNK):
                digest.update(block)
    return digest.hexdigest()


class _Stamps:
    """Which files were found right, by size and time of change: hashing 145 MB costs a second each start.

    A file changed without a change of size or time would slip through; `models verify` reads every byte.
    """

    def __init__(self, path: Path) -> None:
        self._path = path
        self._changed = False
        try:
            known = json.loads(path.read_text(encoding="utf-8"))
        except (OSError, ValueError):
            known = {}
        self._known: dict[str, list[object]] = known if isinstance(known, dict) else {}

    def holds(self, path: Path, sha256: str) -> bool:
        try:
            stat = path.stat()
        except OSError:
            return False
        return self._known.get(str(path)) == [stat.st_size, stat.st_mtime_ns, sha256]

    def add(self, path: Path, sha256: str) -> None:
        stat = path.stat()
        self._known[str(path)] = [stat.st_size, stat.st_mtime_ns, sha256]
        self._changed = True

    def save(self) -> None:
        """Best effort: without the record the next start only hashes again."""
        if not self._changed:
            return
        try:
            handle, name = tempfile.mkstemp(dir=self._path.parent, prefix=".checked.")
            with os.fdopen(handle, "w", encoding="utf-8") as out:
                json.dump(self._known, out, indent=1)
            os.replace(name, self._path)
        except OSError:
            return
