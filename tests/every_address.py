"""Every address of the app: who may open it, and which of a shop's things it names.

C counter, B bench, O owner, A anybody. A test fails on an address that is not here.
"""

from django.test import Client
from django.urls import get_resolver, reverse

from shop.staff.models import Person

ALL = "CBO"
WHO = {
    "sign-in": "A", "sign-out": ALL, "password": ALL,
    "workshop": "O", "staff": "O", "person-new": "O", "person-edit": "O",
    "customers": ALL, "customer": ALL, "customer-new": "CO", "customer-edit": "CO", "customer-delete": "CO",
    "instrument": ALL, "instrument-new": ALL, "instrument-edit": ALL, "instrument-spec": ALL,
    "instrument-strings": ALL, "instrument-delete": ALL,
    "prices": ALL, "price-new": "O", "price-edit": "O",
    "shelf": ALL, "shelf-export": "O", "part": ALL, "part-receive": ALL, "part-send-back": ALL, "part-count": ALL,
    "part-not-sent": ALL, "count": ALL, "count-card": ALL, "reorder": ALL, "reorder-export": "O", "reorder-sent": ALL,
    "suppliers": ALL, "supplier-new": "O", "supplier": "O", "line-take": ALL, "line-put-back": ALL, "part-use": ALL,
    "figures": "O", "figures-csv": "O", "data": "O", "data-everything": "O", "data-cards": "O", "import": "O",
    "import-empty": "O", "import-write": "O", "customer-card": ALL, "customer-data": "O", "customer-data-zip": "O",
    "customer-erase": "O", "set-up": "O", "set-up-step": "O", "set-up-end": "O", "workshop-logo": "O",
    "workshop-logo-drop": "O", "workshop-logo-picture": "O",
    "home": ALL, "find": ALL, "office": ALL, "orders": ALL, "orders-export": "O", "order": ALL,
    "counter": "CO", "counter-found": "CO", "alike": "CO", "reckon": "CO", "book-in": "CO", "booked-in": "CO",
    "draft-photos": "CO", "draft-photo-keep": "CO", "draft-photo-drop": "CO", "draft-photo-of-mark": "CO",
    "another": "CO", "visit-tags": ALL, "mark-photo": ALL,
    "photo": ALL, "photo-remove": ALL, "tag": ALL, "order-tag": ALL, "order-signature": ALL, "order-details": ALL,
    "order-move": ALL, "order-promise": ALL, "order-rack": ALL, "order-note": ALL, "order-photos": ALL,
    "mark-add": ALL, "mark-remove": ALL, "line-pick": ALL, "line-add": ALL, "lines-agree": ALL,
    "lines-decline": ALL, "line-change": ALL, "line-remove": ALL, "line-ask": ALL,
    "bench": ALL, "worksheet-start": "BO", "worksheet": ALL, "worksheet-compare": ALL, "worksheet-sign": "BO",
    "worksheet-reopen": "BO", "finding-accept": "BO", "finding-withdraw": "BO", "worksheet-step": ALL,
    "step-live": ALL, "reading-history": ALL, "reading-save": "BO", "reading-choose": "BO", "reading-undo": "BO",
    "step-done": "BO", "step-skip": "BO", "step-open": "BO", "step-note": "BO", "step-stringing": "BO",
    "step-photos": "BO", "step-span": "BO", "step-time": "BO", "step-photo-remove": "BO",
    "worksheet-plan": ALL, "worksheet-offer": ALL,
    "instrument-likes": ALL, "customer-likes": ALL, "bench-device": ALL, "reading-save-all": "BO",
    "recheck": "O", "recheck-rule": "O", "recheck-begin": "O",
    "recheck-go-on": "O", "recheck-stop": "O", "recheck-take": "O",
    "profiles": "O", "profile": "O", "profile-copy": "O", "profile-usual": "O", "profile-delete": "O",
    "invoices": "CO", "invoices-csv": "O", "invoice": "CO", "order-money": "CO", "invoice-draft": "CO",
    "discount": "CO", "tax-treatment": "CO", "money-receive": "CO", "money-back": "CO", "payment-undo": "CO",
    "order-ready": "CO", "order-collect": "CO", "order-quote": "CO", "order-receipt": ALL,
    "calendar": ALL, "calendar-move": ALL, "calendar-feed-renew": ALL, "calendar-feed-withdraw": ALL,
    "calendar-feed": "A", "bench-hours": "O", "opening-hours": "O", "closed-add": "O", "closed-remove": "O",
    "customer-page": "A", "customer-answer": "A", "customer-paper": "A", "customer-link-renew": "CO",
    "customer-link-withdraw": "CO", "invoice-issue": "CO",
    "invoice-pdf": "CO", "invoice-xml": "CO", "invoice-credit": "CO", "invoice-mail": "CO", "invoice-remind": "CO",
    "paper": ALL,
    "mail": "CO", "mail-silenced": "CO", "address-silence": "CO", "address-lift": "CO", "mail-detail": "CO",
    "mail-html": "CO", "mail-again": "CO", "mail-withdraw": "CO",
    "mail-words": "O", "mail-words-of": "O", "mail-words-look": "O", "mail-words-usual": "O", "mail-words-test": "O",
    "reminders": "CO", "reminders-mail": "CO", "statement": "CO", "month-now": "CO", "month": "CO", "month-csv": "O",
    "month-pdf": "CO", "month-papers": "CO", "month-make": "CO", "statement-mail": "CO",
}  # fmt: skip

# Which thing `pk` is, by the address's name.
PK = {
    "customer-card": "customer", "customer-data": "customer", "customer-data-zip": "customer",
    "customer-erase": "customer",
    "customer": "customer", "customer-edit": "customer", "customer-delete": "customer", "instrument-new": "customer",
    "instrument": "instrument", "instrument-edit": "instrument", "instrument-spec": "instrument",
    "instrument-strings": "instrument", "instrument-likes": "instrument", "customer-likes": "customer",
    "instrument-delete": "instrument", "person-edit": "person",
    "price-edit": "price", "part": "part", "part-receive": "part", "part-send-back": "part", "part-count": "part",
    "part-not-sent": "part", "count-card": "part", "supplier": "supplier",
    "invoice": "invoice", "worksheet-start": "order", "payment-undo": "payment",
    "profile": "profile", "profile-copy": "profile", "profile-usual": "profile", "profile-delete": "profile",
    "worksheet-compare": "signed", "invoice-pdf": "invoice", "invoice-xml": "invoice", "invoice-credit": "invoice",
    "invoice-mail": "invoice",
    "invoice-remind": "invoice", "mail-detail": "mail", "mail-html": "mail", "mail-again": "mail",
    "mail-withdraw": "mail", "paper": "paper",
}  # fmt: skip
OTHERS = {
    "supplier": 0, "key": "revenue", "step": "inspect", "photo": 0, "kind": "electric", "to": "on_bench",
    "name": "paper.pdf", "token": "none",
}
# Addresses that answer with no page of their own: pieces, files, redirects.
NO_PAGE = {
    "sign-in", "sign-out", "home", "worksheet", "counter-found", "alike", "reckon", "draft-photos", "photo", "tag",
    "order-tag", "order-signature", "step-live", "reading-history", "invoice-draft", "orders-export", "invoices-csv",
    "shelf-export", "reorder-export", "count", "figures-csv", "data-everything",
    "data-cards", "import-empty", "customer-card", "customer-data-zip", "set-up", "workshop-logo-picture",
    "worksheet-sign", "worksheet-reopen", "worksheet-start", "line-change", "booked-in", "order-receipt", "invoice-pdf",
    "invoice-xml", "mail-html", "paper", "mail-words-look", "statement", "month-now", "month-csv", "month-pdf",
    "month-papers", "customer-paper",
}  # fmt: skip

# Lists, and the same lists as tables.
WHO |= {
    "customers-export": "O", "instruments": ALL, "instruments-export": "O", "prices-export": "O", "mail-export": "O",
    "suppliers-export": "O", "staff-export": "O", "silenced-export": "O", "part-export": "O", "bench-export": "O",
    "profiles-export": "O",
}  # fmt: skip
PK |= {"part-export": "part"}
NO_PAGE |= {
    "customers-export", "instruments-export", "prices-export", "mail-export", "suppliers-export", "staff-export",
    "silenced-export", "part-export", "bench-export", "profiles-export",
}  # fmt: skip

WHO |= {
    "branches-export": "O", "devices-export": ALL, "health-export": "O", "reminders-export": "O",
    "mail-words-export": "O", "closed-export": "O",
}  # fmt: skip
NO_PAGE |= {
    "branches-export", "devices-export", "health-export", "reminders-export", "mail-words-export", "closed-export",
}  # fmt: skip

WHO |= {"order-expect": "CO", "import-run": "O", "import-stop": "O"}
WHO |= {"reminder-letter": "CO", "reminder-taken-back": "CO"}
PK |= {"reminder-letter": "invoice", "reminder-taken-back": "invoice"}
WHO |= {"kept-view-keep": ALL, "kept-view": ALL, "kept-view-drop": ALL}
PK |= {"kept-view": "view", "kept-view-drop": "view"}

# Two records made one.
WHO |= {
    "customer-merge-find": "CO", "customer-merge": "CO", "customer-unmerge": "CO", "instrument-merge-find": ALL,
    "instrument-merge": ALL, "instrument-unmerge": ALL,
}  # fmt: skip
PK |= {
    "customer-merge-find": "customer", "customer-merge": "customer", "instrument-merge-find": "instrument",
    "instrument-merge": "instrument",
}  # fmt: skip
OTHERS |= {"other": 0}

# Coming in, and the record of it.
WHO |= {
    "sign-in-code": "A", "lock": ALL, "re-enter": ALL, "forgotten": "A", "new-password": "A", "you": ALL, "pin": ALL,
    "second-factor": ALL, "codes-anew": ALL, "codes-drop": ALL, "device-out": ALL, "others-out": ALL, "rules": "O",
    "person-out": "O", "person-codes-drop": "O", "audit": "O", "audit-export": "O", "health": "O",
    "health-check": "A",
}  # fmt: skip
# Branches, and what goes from one to another.
WHO |= {
    "branch-choose": ALL, "branches": "O", "branch-new": "O", "branch": "O", "branch-people": "O", "branch-close": "O",
    "branch-open": "O", "branch-take-away": "O", "order-branch": "CO", "part-send-on": "CO", "part-keep": "O",
    "shelf-send-on": "O",
}  # fmt: skip
PK |= {
    "photo": "photo", "photo-remove": "photo", "draft-photo-drop": "draft", "mark-remove": "condition",
    "mark-photo": "condition",
    "line-change": "line", "line-remove": "line", "line-ask": "line", "line-take": "line", "line-put-back": "line",
}  # fmt: skip
PK |= {"branch": "branch", "branch-people": "branch", "branch-close": "branch", "branch-open": "branch"}
PK |= {"branch-take-away": "branch", "shelf-send-on": "branch", "part-send-on": "part", "part-keep": "part"}
PK |= {"person-out": "person", "person-codes-drop": "person"}
PK |= {"statement": "customer", "statement-mail": "customer"}
OTHERS |= {"which": "ready", "year": 2026, "month": 11}
OTHERS |= {"place": 2, "sent_as": "6f1b0a4e-3c55-4f5e-9a51-0d2f7c1e8b90"}
NO_PAGE |= {"another", "visit-tags", "draft-photo-of-mark"}
OTHERS |= {"uidb64": "MQ", "token": "a-b", "mark": "none"}
NO_PAGE |= {"health-check", "sign-in-code", "re-enter", "audit-export"}


def named_addresses():
    """{name: names of its arguments} of the whole URLconf."""
    found = {}

    def walk(patterns):
        for one in patterns:
            if hasattr(one, "url_patterns"):
                walk(one.url_patterns)
            elif one.name:
                found[one.name] = tuple(one.pattern.converters)

    walk(get_resolver().url_patterns)
    return found


def address_of(name, arguments, things):
    """The address `name` for these things; what is not there is named 0."""
    filled = {}
    for argument in arguments:
        if argument == "number":
            filled[argument] = things["number"]
        elif argument == "pk":
            filled[argument] = things.get(PK.get(name, "sheet" if name in SHEETS else ""), 0)
        else:
            special = "customers" if name.startswith("import") else "shop" if name == "set-up-step" else None
            other = things.get(f"other-{PK.get(name)}") if argument == "other" else None
            filled[argument] = other or special or things.get(argument, OTHERS[argument])
    return reverse(name, kwargs=filled)


SHEETS = {name for name in WHO if name.startswith(("worksheet", "finding", "step", "reading"))}


def pages(things, part=0, parts=1):
    """(address, HTML) of every page that can simply be opened, for these things; or of one of several parts of them."""
    client = Client()
    client.force_login(Person.objects.filter(role="owner").first())
    for name, arguments in sorted(named_addresses().items())[part::parts]:
        if name not in NO_PAGE:
            path = address_of(name, arguments, things)
            answer = client.get(path)
            if answer.status_code == 200 and answer["Content-Type"].startswith("text/html"):
                yield path, answer.content
