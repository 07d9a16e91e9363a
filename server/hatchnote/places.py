"""Where the project's data files are: beside the source in a checkout, inside the package when installed."""

from __future__ import annotations

from pathlib import Path

from hatchnote.errors import NoRoom

_PACKAGE = Path(__file__).resolve().parent
_CHECKOUT = _PACKAGE.parents[1]


def data_folder(name: str) -> Path:
    """The folder `models`, `pwa` or `samples`.

    Raises FileNotFoundError when neither the checkout nor the installed package has it.
    """
    for base in (_CHECKOUT, _PACKAGE / "_data"):
        folder = base / name
        if folder.is_dir():
            return folder
    raise FileNotFoundError(f"The folder {name}/ is missing from this installation; install hatchnote again.")


def make_folder(folder: Path, what: str = "data folder", instead: str = "name another with --data") -> None:
    """Make a folder for this user alone, where it is missing. Raises NoRoom when it cannot be made or used."""
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    except OSError as error:
        raise NoRoom(f"The {what} {folder} cannot be used ({error.strerror}); {instead}.") from None


MODELS = "models"
PWA = "pwa"
SAMPLES = "samples"
