"""The real server is killed, without a last word, in the middle of readings: every one arrives, and none twice."""

import os
import shutil
import signal
import socket
import sqlite3
import subprocess
import sys
from contextlib import closing

import pytest
from playwright.sync_api import expect

from tests import factories, migrated
from tests.running_shop import ROOT, RunningShop

pytestmark = pytest.mark.browser
TYPED = {6: "0.21", 5: "0.19", 4: "0.18", 3: "0.17", 2: "0.16", 1: "0.15"}


def free_port():
    with closing(socket.socket()) as one:
        one.bind(("127.0.0.1", 0))
        return one.getsockname()[1]


MAKE = """
import django
django.setup()
from tests import factories, worksheet_builders
ben = factories.ben()
worksheet_builders.worksheet(worksheet_builders.at_bench(factories.instrument(), ben), ben)
"""


def furnished(folder):
    """A shop with one worksheet, made before the program starts: quicker than its own first start."""
    folder.mkdir()
    shutil.copyfile(migrated.file(), folder / "shop.sqlite3")
    known = {name: value for name, value in os.environ.items() if name != "DATABASE_URL"}
    known |= {"WORKSHOP_DATA": str(folder), "DJANGO_SETTINGS_MODULE": "shop.settings"}
    subprocess.run([sys.executable, "-c", MAKE], cwd=ROOT, env=known, check=True)
    return folder


def asked(folder, query):
    with closing(sqlite3.connect(folder / "shop.sqlite3")) as connection:
        return connection.execute(query).fetchall()


def sign_in(page):
    page.goto("/sign-in/")
    page.fill("input[name=username]", "ben")
    page.fill("input[name=password]", factories.PASSWORD)
    page.press("input[name=password]", "Enter")
    page.wait_for_url(lambda url: "/sign-in/" not in url)


def test_readings_outlive_kill_9_and_none_is_doubled(chromium, tmp_path):
    port, folder = free_port(), furnished(tmp_path / "data")
    first = RunningShop(folder, port=port)
    with first:
        context = chromium.new_context(base_url=first.wait_until_open())
        page = context.new_page()
        sign_in(page)
        ((sheet,),) = asked(folder, "SELECT id FROM worksheets_worksheet WHERE signed_at IS NULL ORDER BY id LIMIT 1")
        page.goto(f"/bench/{sheet}/nut/")
        for number in (6, 5, 4):
            page.locator(f"#f-bench-nut_gap-{number}").fill(TYPED[number])
            page.keyboard.press("Enter")
        expect(page.locator("[data-place=bench-nut_gap-4] [data-state-word]")).to_have_text("saved")
        first.process.send_signal(signal.SIGKILL)
        first.finish()
        for number in (3, 2, 1):
            page.locator(f"#f-bench-nut_gap-{number}").fill(TYPED[number])
            page.keyboard.press("Enter")
        expect(page.locator("[data-place=bench-nut_gap-3] [data-state-word]")).to_have_text("kept here, not yet saved")
    with RunningShop(folder, port=port) as second:
        second.wait_until_open()
        for number in TYPED:
            expect(page.locator(f"[data-place=bench-nut_gap-{number}] [data-state-word]")).to_have_text(
                "saved", timeout=40_000
            )
        context.close()
    stored = asked(folder, f"SELECT string, raw, COUNT(*) FROM worksheets_reading WHERE worksheet_id = {sheet} AND "
                   "step = 'nut' AND stage = 'bench' AND key = 'nut_gap' AND raw IN "
                   f"({', '.join(repr(one) for one in TYPED.values())}) GROUP BY string, raw")  # fmt: skip
    assert {string: (raw, count) for string, raw, count in stored} == {n: (raw, 1) for n, raw in TYPED.items()}
