"""Signing in and out, the brake on guessing, CSRF, cookies and headers, phones."""

import pytest
from browsing import PASSWORD, Person

from hatchnote import passwords


def test_me_tells_who_is_there(ana):
    me = ana.get("/me").json
    assert (me["name"], me["role"], me["csrf"]) == ("Ana", "technician", ana.csrf)


def test_the_cookie_is_strict_and_its_token_is_not_stored(app, store):
    client = app.test_client()
    answer = client.post("/api/v1/session", json={"name": "ANA", "password": PASSWORD})
    cookie = answer.headers["Set-Cookie"]
    assert "HttpOnly" in cookie and "SameSite=Lax" in cookie and "Path=/" in cookie
    token = cookie.split(";")[0].split("=", 1)[1]
    assert token not in str(store.db.rows("SELECT * FROM sessions"))


def test_https_makes_the_cookie_secure(app):
    answer = app.test_client().post(
        "/api/v1/session", json={"name": "ana", "password": PASSWORD}, base_url="https://localhost"
    )
    assert "Secure" in answer.headers["Set-Cookie"]
    assert "Strict-Transport-Security" in answer.headers


def test_a_wrong_password_and_an_unknown_name_read_the_same(nobody):
    wrong = nobody.client.post("/api/v1/session", json={"name": "ana", "password": "guess"})
    unknown = nobody.client.post("/api/v1/session", json={"name": "zoe", "password": "guess"})
    assert (wrong.status_code, wrong.json) == (unknown.status_code, unknown.json) == (401, wrong.json)


def test_guessing_is_slowed_down_even_for_the_right_password(nobody, settings):
    for _ in range(settings.sign_in_tries):
        nobody.client.post("/api/v1/session", json={"name": "ana", "password": "guess"})
    answer = nobody.client.post("/api/v1/session", json={"name": "Ana", "password": PASSWORD})
    assert answer.status_code == 429
    assert int(answer.headers["Retry-After"]) >= 1
    other = nobody.client.post("/api/v1/session", json={"name": "ben", "password": PASSWORD})
    assert other.status_code == 200


def test_signing_out_ends_the_session_everywhere_it_was_copied_to(ana, app):
    cookie = ana.client.get_cookie("hatchnote_session")
    copy = Person(app.test_client(), "", "")
    copy.client.set_cookie("hatchnote_session", cookie.value)
    assert copy.get("/me").status_code == 200
    assert ana.call("DELETE", "/session").status_code == 204
    assert copy.get("/me").status_code == 401


def test_an_unused_session_ends(ana, store, settings):
    real = store.now
    store.now = lambda: real() + settings.session_hours * 3600 + 1
    assert ana.get("/me").status_code == 401
    store.now = real


@pytest.mark.parametrize("token", ["", "wrong"])
def test_a_write_without_the_csrf_token_is_refused(ana, token):
    ana.csrf = token
    answer = ana.put("/visits/0198a000-0000-7000-8000-000000000000", {"site_name": "x", "date": "2026-03-04"})
    assert (answer.status_code, answer.json["code"]) == (403, "csrf")


@pytest.mark.parametrize(
    "headers", [{"Origin": "https://evil.example"}, {"Sec-Fetch-Site": "cross-site"}, {"Origin": "null"}]
)
def test_signing_in_from_another_site_is_refused(nobody, headers):
    answer = nobody.client.post(
        "/api/v1/session", json={"name": "ana", "password": PASSWORD}, headers=headers
    )
    assert answer.status_code == 403
    assert "Set-Cookie" not in answer.headers


def test_every_answer_carries_the_security_headers(nobody):
    for path in ("/", "/signin", "/api/v1/me", "/nowhere", "/static/signin.css"):
        headers = nobody.client.get(path).headers
        policy = headers["Content-Security-Policy"]
        assert "default-src 'self'" in policy and "unsafe" not in policy
        assert headers["X-Content-Type-Options"] == "nosniff"
        assert headers["X-Frame-Options"] == "DENY"
        assert headers["Referrer-Policy"] == "same-origin"


def test_the_sign_in_form_leads_back_only_to_our_own_pages(nobody):
    form = {"name": "olga", "password": PASSWORD}
    places = {"/office/tickets": "/office/tickets"}
    for to in ("//evil.example", "https://evil.example", "/\\evil.example", ""):
        places[to] = "/office"
    for to, expected in places.items():
        answer = nobody.client.post("/signin", data={**form, "next": to})
        assert (answer.status_code, answer.headers["Location"]) == (303, expected)


def test_the_sign_in_form_says_what_was_wrong(nobody):
    answer = nobody.client.post("/signin", data={"name": "<b>ana", "password": "guess"})
    assert answer.status_code == 401
    assert passwords.matches(PASSWORD, None) is False
    assert "wrong" in answer.text
    assert "<b>ana" not in answer.text


# ---------------------------------------------------------------- phones and accounts


def test_a_phone_is_paired_once_by_its_code_and_can_be_signed_out(olga, ana, nobody, app):
    made = olga.post("/pairings", {"user_id": ana.id})
    assert made.status_code == 201
    assert made.json["url"].endswith(made.json["code"])
    assert made.json["qr_svg"].startswith("<svg")
    claim = {"code": made.json["code"], "device": "Ana's phone"}
    me = nobody.client.post("/api/v1/pairings/claim", json=claim)
    assert (me.status_code, me.json["name"]) == (200, "Ana")
    again = app.test_client().post("/api/v1/pairings/claim", json=claim)
    assert again.status_code == 401
    phone = next(d for d in ana.get("/devices").json["devices"] if d["phone"])
    assert phone["device"] == "Ana's phone"
    assert ana.call("DELETE", f"/devices/{phone['id']}").status_code == 204
    assert nobody.get("/me").status_code == 401


def test_an_old_code_is_worth_nothing(olga, ana, nobody, store, settings):
    code = olga.post("/pairings", {"user_id": ana.id}).json["code"]
    real = store.now
    store.now = lambda: real() + settings.pairing_minutes * 60 + 1
    answer = nobody.client.post("/api/v1/pairings/claim", json={"code": code, "device": "x"})
    store.now = real
    assert answer.status_code == 401


def test_the_office_cannot_pair_itself_into_an_administrators_account(olga, adam):
    assert olga.post("/pairings", {"user_id": adam.id}).status_code == 403


def test_nobody_signs_out_somebody_elses_phone_but_an_administrator(ana, ben, adam):
    mine = ana.get("/devices").json["devices"][0]["id"]
    assert ben.call("DELETE", f"/devices/{mine}").status_code == 404
    assert adam.call("DELETE", f"/devices/{mine}").status_code == 204
    assert ana.get("/me").status_code == 401


def test_an_administrator_adds_changes_and_closes_accounts(adam, app):
    new = adam.post("/users", {"name": "kim", "role": "technician", "password": "a long password"})
    assert new.status_code == 201
    assert (
        adam.post("/users", {"name": "KIM", "role": "office", "password": "a long password"}).status_code
        == 409
    )
    kim = app.test_client()
    assert kim.post("/api/v1/session", json={"name": "kim", "password": "a long password"}).status_code == 200
    assert adam.call("PATCH", f"/users/{new.json['id']}", {"active": False}).json["active"] is False
    assert kim.get("/api/v1/me").status_code == 401
    assert kim.post("/api/v1/session", json={"name": "kim", "password": "a long password"}).status_code == 401


def test_the_last_administrator_cannot_close_himself_out(adam):
    assert adam.call("PATCH", f"/users/{adam.id}", {"role": "office"}).status_code == 409


def test_short_passwords_are_refused(adam):
    answer = adam.post("/users", {"name": "kim", "role": "technician", "password": "short"})
    assert (answer.status_code, "10 characters" in answer.json["error"]) == (400, True)
