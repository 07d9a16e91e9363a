"""The bell: a ring on one side wakes a worker on the other, and a queue that is away loses nothing."""

import threading
import time

from hatchnote.jobs import worker
from hatchnote.jobs.bell import Bell
from hatchnote.settings import Settings


def test_a_ring_is_heard_by_another_process_own_queue(tmp_path):
    """Ringer and worker build their queues separately, as two processes do."""
    settings = Settings(data=tmp_path)
    heard, stop = threading.Event(), threading.Event()
    hearing = threading.Thread(target=worker._hear_bell, args=(settings, heard.set, stop), daemon=True)
    hearing.start()
    time.sleep(0.2)
    assert not heard.is_set()
    Bell(settings).ring()
    assert heard.wait(timeout=20)
    stop.set()
    hearing.join(timeout=20)


def test_ringing_a_queue_that_is_away_is_not_an_error():
    Bell(Settings(queue="redis://127.0.0.1:1/0")).ring()
