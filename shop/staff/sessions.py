"""Sessions in the database, each with whose it is, so that they can be listed and ended."""

from datetime import datetime

from django.contrib.sessions.backends.db import SessionStore as DatabaseStore

from shop.staff.models import SignedIn


class SessionStore(DatabaseStore):
    @classmethod
    def get_model_class(cls):
        return SignedIn

    def create_model_instance(self, data):
        row = super().create_model_instance(data)
        row.person_id = data.get("_auth_user_id")
        row.began_at, row.seen_at = when(data.get("began")), when(data.get("seen"))
        row.address, row.device = data.get("address", ""), data.get("device", "")
        return row


def when(text):
    return datetime.fromisoformat(text) if text else None
