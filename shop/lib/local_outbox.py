"""The folder in which mails lie while no mail server is named."""

from pathlib import Path

from django.conf import settings

END = b"-" * 79 + b"\n"  # as Django's backend closes each mail; one file may hold several


def take_out(message_ids):
    """Take the mails with these ids out of the folder, wherever in its files they stand."""
    ids = [one.encode() for one in message_ids]
    folder = Path(settings.EMAIL_FILE_PATH)
    for file in folder.iterdir() if ids and folder.is_dir() else ():
        mails = file.read_bytes().split(END)
        left = [one for one in mails if not any(key in one for key in ids)]
        if not b"".join(left).strip():
            file.unlink()
        elif len(left) < len(mails):
            file.write_bytes(END.join(left))
