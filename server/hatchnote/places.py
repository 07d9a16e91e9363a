"""Where the project's data files are: beside the source in a checkout, inside the package when installed."""

from __future__ import annotations

from pathlib import Path

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


MODELS = "models"
PWA = "pwa"
SAMPLES = "samples"
