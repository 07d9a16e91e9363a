"""tus 1.0.0 (https://tus.io/protocols/resumable-upload), header by header, and what we add to it."""

import base64
import hashlib
import io

import pytest
from browsing import begin_segment, metadata, new_id, send_segment, sha256, sound

from hatchnote.store import uploads


def test_options_tells_version_extensions_size_and_checksums(nobody):
    answer = nobody.client.options("/uploads")
    assert answer.status_code == 204
    assert answer.headers["Tus-Version"] == "1.0.0"
    assert set(answer.headers["Tus-Extension"].split(",")) == {
        "creation", "creation-defer-length", "checksum", "expiration", "termination"}  # fmt: skip
    assert int(answer.headers["Tus-Max-Size"]) == 512 * 1024 * 1024
    assert "sha1" in answer.headers["Tus-Checksum-Algorithm"].split(",")


def test_a_file_in_pieces_is_whole_only_at_the_end(ana, recording, store):
    data = sound(3000)
    path, id = begin_segment(ana, recording, data)
    first = ana.tus("PATCH", path, data=data[:1000], Upload_Offset=0)
    assert (first.status_code, first.headers["Upload-Offset"]) == (204, "1000")
    assert "Hatchnote-Received" not in first.headers
    assert first.headers["Upload-Expires"].endswith("GMT")
    assert ana.get(f"/receipts/{id}").status_code == 404
    where = ana.tus("HEAD", path)
    assert where.headers["Upload-Offset"] == "1000"
    assert where.headers["Upload-Length"] == "3000"
    assert where.headers["Cache-Control"] == "no-store"
    last = ana.tus("PATCH", path, data=data[1000:], Upload_Offset=1000)
    assert last.headers["Hatchnote-Received"] == "whole"
    assert last.headers["Hatchnote-Sha256"] == sha256(data)
    assert ana.get(f"/receipts/{id}").json == {"id": id, "sha256": sha256(data), "bytes": 3000}
    assert store.blobs.read(sha256(data)) == data
    assert ana.tus("HEAD", path).headers["Hatchnote-Received"] == "whole"


def test_another_offset_is_409_and_changes_nothing(ana, recording, store):
    data = sound()
    path, _ = begin_segment(ana, recording, data)
    ana.tus("PATCH", path, data=data[:400], Upload_Offset=0)
    for wrong in (0, 399, 401):
        answer = ana.tus("PATCH", path, data=b"xxxx", Upload_Offset=wrong)
        assert answer.status_code == 409
    assert ana.tus("HEAD", path).headers["Upload-Offset"] == "400"
    assert ana.tus("PATCH", path, data=data[400:], Upload_Offset=400).headers["Hatchnote-Received"] == "whole"


@pytest.mark.parametrize(
    "headers, status",
    [
        ({"Tus_Resumable": "0.2.2"}, 412),
        ({"Content_Type": "text/plain"}, 415),
        ({"Upload_Offset": "minus one"}, 400),
        ({"Upload_Checksum": "md5 AAAA"}, 400),
        ({"Upload_Checksum": "sha1 not base64!"}, 400),
        ({"Upload_Checksum": "sha1 " + base64.b64encode(b"x" * 20).decode()}, 460),
    ],
)
def test_a_request_that_is_not_right_changes_nothing(ana, recording, headers, status):
    data = sound()
    path, _ = begin_segment(ana, recording, data)
    answer = ana.tus("PATCH", path, data=data, **{"Upload_Offset": 0, **headers})
    assert answer.status_code == status
    if status == 412:
        assert answer.headers["Tus-Version"] == "1.0.0"
    assert ana.tus("HEAD", path).headers["Upload-Offset"] == "0"


@pytest.mark.parametrize("algorithm", ["sha1", "sha256"])
def test_a_right_checksum_is_taken(ana, recording, algorithm):
    data = sound()
    path, _ = begin_segment(ana, recording, data)
    digest = base64.b64encode(hashlib.new(algorithm, data).digest()).decode()
    answer = ana.tus("PATCH", path, data=data, Upload_Offset=0, Upload_Checksum=f"{algorithm} {digest}")
    assert answer.headers["Hatchnote-Received"] == "whole"


def test_more_bytes_than_promised_are_refused(ana, recording):
    data = sound()
    path, _ = begin_segment(ana, recording, data)
    assert ana.tus("PATCH", path, data=data + b"more", Upload_Offset=0).status_code == 413
    assert ana.tus("HEAD", path).headers["Upload-Offset"] == "0"


def test_a_body_that_ends_early_keeps_its_valid_prefix(ana, recording, store):
    data = sound(5000)
    path, _ = begin_segment(ana, recording, data)
    answer = ana.client.open(
        path,
        method="PATCH",
        input_stream=io.BytesIO(data[:3000]),
        headers={"Tus-Resumable": "1.0.0", "X-CSRF-Token": ana.csrf, "Upload-Offset": "0", "Content-Length": "5000",
                 "Content-Type": "application/offset+octet-stream"},
    )  # fmt: skip
    assert answer.headers["Upload-Offset"] == "3000"
    assert uploads.file_of(store, path.rsplit("/", 1)[1]).read_bytes() == data[:3000]
    assert (
        ana.tus("PATCH", path, data=data[3000:], Upload_Offset=3000).headers["Hatchnote-Received"] == "whole"
    )


def test_bytes_beyond_the_acknowledged_offset_are_cut_off(ana, recording, store):
    data = sound(2000)
    path, _ = begin_segment(ana, recording, data)
    ana.tus("PATCH", path, data=data[:500], Upload_Offset=0)
    with open(uploads.file_of(store, path.rsplit("/", 1)[1]), "ab") as file:
        file.write(b"written, but the power went before it was acknowledged")
    answer = ana.tus("PATCH", path, data=data[500:], Upload_Offset=500)
    assert answer.headers["Hatchnote-Sha256"] == sha256(data)


def test_other_bytes_than_announced_are_never_whole(ana, recording):
    data = sound()
    path, id = begin_segment(ana, recording, data)
    damaged = data[:-1] + bytes([data[-1] ^ 1])
    answer = ana.tus("PATCH", path, data=damaged, Upload_Offset=0)
    assert answer.status_code == 460
    assert "Hatchnote-Received" not in answer.headers
    assert ana.get(f"/receipts/{id}").status_code == 404
    assert ana.tus("HEAD", path).status_code == 404
    assert send_segment(ana, recording, data, id=id) == id


def test_the_same_file_twice_is_the_same_as_once(ana, recording, store):
    data = sound()
    id = send_segment(ana, recording, data)
    assert send_segment(ana, recording, data, id=id) == id
    assert len(list(store.blobs.digests())) == 1
    assert len(ana.get(f"/recordings/{recording}").json["segments"]) == 1


def test_a_received_segment_is_never_replaced_by_other_bytes(ana, recording):
    id = send_segment(ana, recording, sound())
    other = sound(1500)
    named = metadata(kind="segment", id=id, sha256=sha256(other), recording=recording, seq=0)
    answer = ana.tus("POST", "/uploads", Upload_Length=len(other), Upload_Metadata=named)
    assert answer.status_code == 409
    assert ana.get(f"/receipts/{id}").json["sha256"] == sha256(sound())


def test_sound_is_sent_while_it_is_recorded_and_proven_at_its_end(ana, recording):
    data, id = sound(3000), new_id()
    named = metadata(kind="segment", id=id, recording=recording, seq=0, filetype="audio/webm")
    made = ana.tus("POST", "/uploads", Upload_Defer_Length=1, Upload_Metadata=named)
    path = made.headers["Location"]
    assert ana.tus("HEAD", path).headers["Upload-Defer-Length"] == "1"
    ana.tus("PATCH", path, data=data[:1000], Upload_Offset=0)
    assert ana.get(f"/recordings/{recording}").json["segments"][0]["received_bytes"] == 1000
    ana.tus("PATCH", path, data=data[1000:], Upload_Offset=1000)
    last = ana.tus(
        "PATCH", path, data=b"", Upload_Offset=3000, Upload_Length=3000, Hatchnote_Sha256=sha256(data)
    )
    assert last.headers["Hatchnote-Received"] == "whole"


def test_the_manifest_may_announce_the_digest_afterwards(ana, recording, visit):
    data, id = sound(3000), new_id()
    named = metadata(kind="segment", id=id, recording=recording, seq=0)
    path = ana.tus("POST", "/uploads", Upload_Defer_Length=1, Upload_Metadata=named).headers["Location"]
    last = ana.tus("PATCH", path, data=data, Upload_Offset=0, Upload_Length=3000)
    assert "Hatchnote-Received" not in last.headers
    segment = {"id": id, "seq": 0, "bytes": 3000, "sha256": sha256(data), "mime": "audio/webm"}
    body = {"ticket_id": visit, "started_at": "2026-03-04T14:00:00Z", "segments": [segment], "finished": True}
    answer = ana.put(f"/recordings/{recording}", body)
    assert answer.json["segments"][0]["sha256"] == sha256(data)
    assert answer.json["status"] == "listening"


def test_terminated_uploads_are_gone(ana, recording, store):
    path, _ = begin_segment(ana, recording, sound())
    assert ana.tus("DELETE", path).status_code == 204
    assert ana.tus("HEAD", path).status_code == 404
    assert list(store.uploads.iterdir()) == []


def test_unfinished_uploads_expire_and_whole_ones_do_not(ana, recording, store):
    data = sound()
    whole = send_segment(ana, recording, data)
    path, _ = begin_segment(ana, recording, sound(900), seq=1)
    real = store.now
    store.now = lambda: real() + 31 * 86400
    try:
        ana_again = store.db.change("UPDATE sessions SET expires_at = ?", (store.now() + 100,))
        assert ana_again
        assert ana.tus("HEAD", path).status_code == 410
        assert ana.get(f"/receipts/{whole}").status_code == 200
    finally:
        store.now = real


def test_method_override_is_understood(ana, recording):
    data = sound()
    path, _ = begin_segment(ana, recording, data)
    answer = ana.tus("POST", path, data=data, X_HTTP_Method_Override="PATCH", Upload_Offset=0,
                     Content_Type="application/offset+octet-stream")  # fmt: skip
    assert answer.headers["Hatchnote-Received"] == "whole"


# ---------------------------------------------------------------- bad input


@pytest.mark.parametrize(
    "values, status, word",
    [
        ({"kind": "film"}, 400, "kind"),
        ({"id": "../../etc/passwd"}, 400, "UUID"),
        ({"recording": "../x"}, 400, "recording"),
        ({"seq": "first"}, 400, "seq"),
        ({"sha256": "abc"}, 400, "sha256"),
        ({"recording": "0198a000-0000-7000-8000-000000000000"}, 404, "recording"),
    ],
)
def test_metadata_that_does_not_fit_is_told_in_a_sentence(ana, recording, values, status, word):
    right = {"kind": "segment", "id": new_id(), "sha256": "0" * 64, "recording": recording, "seq": 0}
    answer = ana.tus("POST", "/uploads", Upload_Length=10, Upload_Metadata=metadata(**{**right, **values}))
    assert answer.status_code == status
    assert word in answer.json["error"]


def test_a_name_with_dots_and_slashes_is_only_a_name(ana, recording, store, tmp_path):
    data, id = sound(), new_id()
    named = metadata(
        kind="segment", id=id, sha256=sha256(data), recording=recording, seq=0, filename="../../../evil.webm"
    )
    path = ana.tus("POST", "/uploads", Upload_Length=len(data), Upload_Metadata=named).headers["Location"]
    assert ana.tus("PATCH", path, data=data, Upload_Offset=0).headers["Hatchnote-Received"] == "whole"
    assert not list(tmp_path.rglob("*evil*"))


def test_empty_files_and_too_large_ones_are_refused_at_once(ana, recording):
    named = metadata(kind="segment", id=new_id(), sha256="0" * 64, recording=recording, seq=0)
    assert ana.tus("POST", "/uploads", Upload_Length=0, Upload_Metadata=named).status_code == 400
    assert ana.tus("POST", "/uploads", Upload_Length=2**40, Upload_Metadata=named).status_code == 413


def test_a_renamed_picture_is_no_sound(ana, recording):
    data = b"\x89PNG\r\n\x1a\n" + bytes(500)
    path, id = begin_segment(ana, recording, data)
    answer = ana.tus("PATCH", path, data=data, Upload_Offset=0)
    assert answer.status_code == 422
    assert "no sound" in answer.json["error"]
    assert ana.get(f"/receipts/{id}").status_code == 404
    assert ana.tus("HEAD", path).headers["Hatchnote-Received"] == "refused"


def test_somebody_elses_upload_does_not_exist(ana, ben, recording):
    data = sound()
    path, _ = begin_segment(ana, recording, data)
    assert ben.tus("HEAD", path).status_code == 404
    assert ben.tus("PATCH", path, data=data, Upload_Offset=0).status_code == 404
    assert ben.tus("DELETE", path).status_code == 404
    named = metadata(kind="segment", id=new_id(), sha256="0" * 64, recording=recording, seq=3)
    assert ben.tus("POST", "/uploads", Upload_Length=5, Upload_Metadata=named).status_code == 404


def test_uploads_need_a_session_and_the_csrf_token(ana, nobody, recording):
    assert nobody.tus("POST", "/uploads", Upload_Length=5).status_code == 401
    ana.csrf = "wrong"
    assert ana.tus("POST", "/uploads", Upload_Length=5).status_code == 403


@pytest.mark.parametrize("taken_at", ["yesterday", "2026-13-40T99:00:00Z", "2026-03-04", "1"])
def test_a_photo_taken_at_no_moment_is_refused(ana, visit, taken_at):
    about = metadata(kind="photo", id=new_id(), ticket=visit, sha256="0" * 64, taken_at=taken_at)
    answer = ana.tus("POST", "/uploads", Upload_Length=10, Upload_Metadata=about)
    assert answer.status_code == 400 and "taken_at" in answer.json["error"]


def test_a_recording_that_ended_without_sound_does_not_wait_for_ever(ana, visit):
    id = new_id()
    body = {"ticket_id": visit, "started_at": "2026-03-04T14:00:00Z", "segments": [], "finished": True}
    assert ana.put(f"/recordings/{id}", body).status_code == 200
    answer = ana.get(f"/recordings/{id}").json
    assert answer["status"] == "set-aside" and "without any sound" in answer["error"]
