"""What every test may rely on, and which tests need something of the machine.

Tests marked `browser` need Chromium, `redis` a Redis server, `voices` espeak-ng. Where one is not installed they are
skipped with a line saying so; with HATCHNOTE_TESTS_NEED_BROWSER=1 (set by .ci/run) its absence is a failure.

A browser test that fails is run once more, for a browser beside a speech model on two cores now and then stalls for
longer than anyone should wait; the summary names each that needed it, and one that is named again is to be mended.
"""

import os
import shutil

import pytest

NEEDS = {
    "browser": ("chromium", "chromium-browser"),
    "redis": ("redis-server",),
    "voices": ("espeak-ng",),
}


def pytest_collection_modifyitems(items):
    strict = os.environ.get("HATCHNOTE_TESTS_NEED_BROWSER") == "1"
    for item in items:
        if item.get_closest_marker("browser"):
            item.add_marker(pytest.mark.flaky(reruns=1))
        for mark, programs in NEEDS.items():
            if not item.get_closest_marker(mark) or any(map(shutil.which, programs)):
                continue
            if strict:
                raise pytest.UsageError(
                    f"{programs[0]} is not installed, and these tests may not be skipped here."
                )
            item.add_marker(pytest.mark.skip(reason=f"{programs[0]} is not installed on this machine"))


@pytest.fixture(scope="session")
def chromium_path():
    """The installed Chromium; tests that use it carry the mark `browser`."""
    return next(filter(None, map(shutil.which, NEEDS["browser"])), None)
