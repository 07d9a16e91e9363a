"""Accounts, and the phones and browsers that are signed in."""

from __future__ import annotations

from flask import Response

from hatchnote.store import people
from hatchnote.web.context import me, session, store
from hatchnote.web.office import bp, office_only, page


@bp.get("/office/users")
@office_only
def show_people() -> Response:
    mine = session()
    everybody = me().role == "administrator"
    devices = people.devices(store(), user_id=None if everybody else me().id)
    return page(
        "office/people.html",
        "users",
        people=people.users(store()),
        devices=devices,
        this=mine.id if mine else None,
        administrator=everybody,
        me=me().id,
        roles=people.ROLES,
    )
