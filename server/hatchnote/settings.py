"""Everything configurable: one table of settings, read from the environment or a TOML file.

`HATCHNOTE_PORT=8080` in the environment and `port = 8080` in the file named by HATCHNOTE_CONFIG say the
same; the environment wins. A secret may be given as a path instead: HATCHNOTE_WORKER_TOKEN_FILE.
A bad value is refused in one sentence before anything starts.
"""

from __future__ import annotations

import os
import tomllib
from collections.abc import Callable, Iterator, Mapping, MutableMapping
from dataclasses import dataclass, field, fields
from pathlib import Path
from typing import Any

from hatchnote.errors import BadInput

PREFIX = "HATCHNOTE_"
MIB = 1024 * 1024


def _whole(least: int, most: int) -> Callable[[Any], int]:
    def parse(value: Any) -> int:
        number = int(str(value))
        if not least <= number <= most:
            raise ValueError(f"give a whole number from {least} to {most}")
        return number

    parse.__doc__ = f"a whole number from {least} to {most}"
    return parse


def _choice(*allowed: str) -> Callable[[Any], str]:
    def parse(value: Any) -> str:
        if value not in allowed:
            raise ValueError("use " + " or ".join(allowed))
        return str(value)

    parse.__doc__ = " or ".join(allowed)
    return parse


def _yes_no(value: Any) -> bool:
    """yes or no"""
    text = str(value).strip().lower()
    if text in ("1", "true", "yes", "on"):
        return True
    if text in ("0", "false", "no", "off"):
        return False
    raise ValueError("say yes or no")


def _text(value: Any) -> str:
    """text"""
    return str(value)


def _path(value: Any) -> Path:
    """a path"""
    if not str(value).strip():
        raise ValueError("give a path")
    return Path(str(value))


def _queue(value: Any) -> str:
    """sqlite, or redis://host:port/number"""
    text = str(value)
    if text == "sqlite" or text.startswith(("redis://", "rediss://")):
        return text
    raise ValueError("use sqlite, or an address like redis://host:6379/0")


def _web_address(value: Any) -> str:
    """an http or https address"""
    text = str(value).rstrip("/")
    if text and not text.startswith(("http://", "https://")):
        raise ValueError("give an address that begins with https:// or http://")
    return text


def _setting(default: Any, parse: Callable[[Any], Any], help: str, *, secret: bool = False) -> Any:
    return field(default=default, metadata={"parse": parse, "help": help, "secret": secret})


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """All settings with their defaults. Make one with `load`; tests may construct it directly."""

    data: Path = _setting(  # noqa: RUF009  (a frozen field, made once)
        Path("data"), _path, "The data folder: database, sound, photos, queue."
    )
    host: str = _setting("127.0.0.1", _text, "Address to listen on.")
    port: int = _setting(8000, _whole(1, 65535), "Port to listen on.")
    web_threads: int = _setting(8, _whole(1, 64), "Requests answered at once.")
    public_address: str = _setting("", _web_address, "Address people use, when a proxy stands in front.")
    proxies: int = _setting(0, _whole(0, 5), "Proxies in front whose X-Forwarded headers are believed.")
    log_level: str = _setting("info", _choice("debug", "info", "warning", "error"), "How much is logged.")

    queue: str = _setting("sqlite", _queue, "Where the bell for new work hangs; the work itself is a table.")
    workers: int = _setting(1, _whole(1, 16), "Recordings one worker process listens to at once.")
    worker_token: str = _setting(
        "", _text, "Shared secret of workers on other hosts; empty: none.", secret=True
    )
    sound_store: str = _setting(
        "",
        _web_address,
        "S3-compatible bucket that takes sound to workers on other hosts; empty: the API does.",
    )
    sound_store_key: str = _setting("", _text, "Access key of that store.", secret=True)
    sound_store_secret: str = _setting("", _text, "Secret key of that store.", secret=True)
    sound_store_region: str = _setting("us-east-1", _text, "Region that its signatures name.")
    lease_s: int = _setting(90, _whole(2, 3600), "A worker silent for so many seconds has lost its job.")
    tries: int = _setting(3, _whole(1, 20), "After so many tries a recording is set aside.")
    sweep_s: int = _setting(60, _whole(1, 3600), "Forgotten work is looked for every so many seconds.")

    max_upload_mb: int = _setting(512, _whole(1, 16384), "Largest segment of sound or photo, MiB.")
    max_photo_mb: int = _setting(64, _whole(1, 1024), "Largest photo, MiB.")
    keep_free_mb: int = _setting(
        256, _whole(0, 1_000_000), "Uploads are refused below so much free disk, MiB."
    )
    upload_days: int = _setting(30, _whole(1, 365), "An unfinished upload is kept for so many days.")
    photo_location: str = _setting(
        "strip", _choice("strip", "keep"), "Whether a served photo keeps the place where it was taken."
    )

    session_hours: int = _setting(
        12, _whole(1, 24 * 30), "An unused browser session ends after so many hours."
    )
    device_days: int = _setting(90, _whole(1, 3650), "An unused phone is signed out after so many days.")
    pairing_minutes: int = _setting(15, _whole(1, 24 * 60), "A phone's pairing code is good for so long.")
    sign_in_tries: int = _setting(5, _whole(1, 1000), "Wrong passwords before sign-in waits.")

    keep_sound_days: int = _setting(
        0, _whole(0, 36500), "Sound of approved tickets is deleted after so many days; 0: never."
    )
    keep_change_days: int = _setting(
        0, _whole(0, 36500), "Finished jobs and ended sessions are deleted after so many days; 0: never."
    )
    webhook: str = _setting("", _web_address, "Address told of approved tickets; empty: none.")
    webhook_secret: str = _setting("", _text, "Key of the webhook's HMAC-SHA256 signature.", secret=True)
    vocabulary: str = _setting("", _text, "The company's own vocabulary file (TOML).")

    @property
    def database(self) -> Path:
        return self.data / "hatchnote.db"

    @property
    def blobs(self) -> Path:
        return self.data / "blobs"

    @property
    def uploads(self) -> Path:
        return self.data / "uploads"

    @property
    def queue_file(self) -> Path:
        return self.data / "queue.db"

    @property
    def secure(self) -> bool:
        """True when people come by https: cookies are marked Secure then."""
        return self.public_address.startswith("https://")


@dataclass(frozen=True, slots=True)
class SettingFacts:
    """One row of the settings table, for the documentation and its test."""

    name: str
    variable: str
    default: Any
    values: str
    help: str
    secret: bool


ROOMS: dict[str, tuple[str, str, str]] = {
    "speech_model": (
        "base",
        "a name or a folder",
        "What listens: a pinned model, another faster-whisper model, a folder.",
    ),
    "second_model": (
        "tiny.en",
        "a name, a folder, or none",
        "The second listener, which hears numbers again.",
    ),
    "language": ("en", "a code such as en, es", "What is spoken; readings are read in English only."),
    "device": ("auto", "auto, cpu or cuda", "Where the speech model runs."),
    "compute": ("", "a CTranslate2 type", "Its arithmetic; empty: int8 on a CPU, float16 on a GPU."),
    "threads": ("0", "a whole number", "Threads for one recording; 0: as many as there are, 4 at most."),
    "cache": ("", "a path", "Where the model's joined files are kept; empty: the user's cache folder."),
}
"""Settings that the rooms read from the environment themselves, so that they work without a server: default, what may
be given, what it does."""


def publish(environ: MutableMapping[str, str] | None = None) -> None:
    """Put what the file of HATCHNOTE_CONFIG says for the rooms into the environment, where that says nothing.

    Raises BadInput when the file cannot be used.
    """
    env = os.environ if environ is None else environ
    config = env.get(PREFIX + "CONFIG", "")
    if not config:
        return
    file = _read_file(Path(config))
    for name in (*ROOMS, "vocabulary"):
        if name in file:
            env.setdefault(PREFIX + name.upper(), str(file[name]))


def table() -> Iterator[SettingFacts]:
    """Every setting there is, in order."""
    for name, (default, values, help) in ROOMS.items():
        yield SettingFacts(name, PREFIX + name.upper(), default, values, help, secret=False)
    for f in fields(Settings):
        yield SettingFacts(
            name=f.name,
            variable=PREFIX + f.name.upper(),
            default=f.default,
            values=(f.metadata["parse"].__doc__ or "").strip(),
            help=f.metadata["help"],
            secret=f.metadata["secret"],
        )


def load(environ: Mapping[str, str] | None = None, **overrides: Any) -> Settings:
    """Settings from `overrides` (None: not given), the environment, and the file HATCHNOTE_CONFIG names.

    Raises BadInput with one sentence for an unknown name in the file and for any value that cannot be used.
    """
    env = os.environ if environ is None else environ
    known = {f.name: f for f in fields(Settings)}
    found: dict[str, tuple[Any, str]] = {}
    config = env.get(PREFIX + "CONFIG", "")
    if config:
        for name, value in _read_file(Path(config)).items():
            if name not in known and name not in ROOMS:
                raise BadInput(f"{config} sets {name}, which is no setting; see the table of settings.")
            if name in known:
                found[name] = (value, f"{name} in {config}")
    for name, f in known.items():
        variable = PREFIX + name.upper()
        if f.metadata["secret"] and env.get(variable + "_FILE"):
            found[name] = (_read_secret(env[variable + "_FILE"], variable), variable + "_FILE")
        elif variable in env:
            found[name] = (env[variable], variable)
    for name, value in overrides.items():
        if value is not None:
            found[name] = (value, f"--{name.replace('_', '-')}")
    values = {name: _parse(known[name].metadata["parse"], *given) for name, given in found.items()}
    return Settings(**values)


def _parse(parse: Callable[[Any], Any], value: Any, where: str) -> Any:
    try:
        return parse(value)
    except ValueError as error:
        expected = (parse.__doc__ or "").strip()
        reason = f"give {expected}" if "invalid literal" in str(error) else str(error)
        raise BadInput(f"{where} is {value!r}; {reason}.") from None


def _read_file(path: Path) -> dict[str, Any]:
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        raise BadInput(f"The settings file {path} cannot be read ({error.strerror}).") from None
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise BadInput(f"The settings file {path} is no valid TOML ({error}).") from None


def _read_secret(path: str, variable: str) -> str:
    try:
        return Path(path).read_text(encoding="utf-8").strip()
    except OSError as error:
        raise BadInput(f"{variable}_FILE names {path}, which cannot be read ({error.strerror}).") from None
