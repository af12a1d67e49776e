"""Tables and address cards read in: looked through first, then written whole or not at all."""

from decimal import Decimal

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from shop.figures.carrying import importing
from shop.figures.carrying.cards import card_of
from shop.figures.carrying.reading import FileRefused
from shop.instruments.models import Instrument
from shop.people.models import Customer
from shop.staff.models import AuditEntry
from shop.stock.levels import on_hand
from shop.stock.models import PriceItem
from tests import factories

pytestmark = pytest.mark.django_db
HEAD = "name,e-mail,telephone\n"


def check(kind, text):
    data = text if isinstance(text, bytes) else text.encode()
    return importing.check(kind, data, workshop=factories.workshop())


def upload(client, kind, data, name="table.csv"):
    return client.post(f"/office/data/{kind}/", {"file": SimpleUploadedFile(name, data)})


def test_customers_are_previewed_and_then_written(as_person, ada):
    client = as_person(ada)
    page = upload(client, "customers", f"{HEAD}Léa Odell,lea@example.com,01632 960111\nJon,,\n".encode())
    assert "Write all 2" in page.text
    assert not Customer.objects.exists()
    assert client.post("/office/data/customers/write/").status_code == 302
    assert Customer.objects.matching("lea odell").get().created_by == ada
    assert Customer.objects.with_telephone("+44 1632 960111").exists()
    again = client.post("/office/data/customers/write/", follow=True)
    assert "no file that waits" in again.text
    assert Customer.objects.count() == 2


def test_one_bad_row_and_nothing_is_written(as_person, ada):
    client = as_person(ada)
    page = upload(client, "customers", f"{HEAD}Jon,,\n,x@example.com,\nMax,not an address,\n".encode())
    assert "Line 3" in page.text
    assert "Line 4" in page.text
    client.post("/office/data/customers/write/")
    assert not Customer.objects.exists()


def test_what_is_wrong_in_the_same_way_is_said_once(as_person, ada):
    rows = "".join(f"Per {number},not an address,\n,a{number}@example.com,\n" for number in range(20))
    page = upload(as_person(ada), "customers", f"{HEAD}{rows}".encode()).text
    assert "Lines 3, 5, 7, 9, 11, 13, 15, 17, 19, 21, 23, 25 and 8 more, name: This field cannot be blank." in page
    assert page.count("cannot be blank") == 1


def test_a_look_is_no_export_and_reading_in_is_written_down(as_person, ada):
    client = as_person(ada)
    for path in ("/office/data/", "/office/data/customers/", "/office/data/customers/empty.csv"):
        assert client.get(path).status_code == 200, path
    upload(client, "customers", f"{HEAD}Jon,,\n".encode())
    client.post("/office/data/customers/write/")
    written = AuditEntry.objects.exclude(kind="entry").values_list("kind", "text")
    assert list(written) == [("import", "Read in: customers, 1.")]
    client.get("/office/data/customers.vcf")
    client.get(f"/customers/{Customer.objects.get().pk}/data/everything.zip")
    assert AuditEntry.objects.filter(kind="export").count() == 2


def test_who_is_on_file_is_left_out_and_twice_in_a_file_is_said():
    factories.customer(email="mara@example.com")
    checked = check("customers", f"{HEAD}Mara,MARA@example.com,\nA,a@example.com,\nB,a@example.com,\n")
    assert checked.left_out == [2]
    assert checked.problems == [(4, "e-mail", "The same as in line 3.")]


def test_instruments_find_their_customer():
    factories.customer(email="mara@example.com")
    factories.customer(name="Two", email="")
    factories.customer(name="Two", email="")
    head = "customer;kind;maker;serial number;strings\n"
    bad = "Two;;;;\nNobody;;;;\nMara Fell;;;;x\n"
    checked = check("instruments", f"{head}mara@example.com;bass;Larkrise;B-101;\n{bad}")
    assert [line for line, *_ in checked.problems] == [3, 4, 5]
    good = check("instruments", head + "mara@example.com;bass;Larkrise;B-101;\n")
    importing.write(good, by=None)
    assert Instrument.objects.with_serial("b101").get().string_count == 4


def test_parts_come_with_a_first_count(ada):
    checked = check("parts", "name,price,kind,cost,on hand\nStuds,14.50,part,6.10,7\n")
    importing.write(checked, by=ada)
    item = PriceItem.objects.get()
    assert (on_hand(item), item.cost, item.tax_rate) == (7, Decimal("6.10"), Decimal("20.00"))


@pytest.mark.parametrize("row", ["Studs,x,part", "Studs,1,gift", "Studs,-1,part", "Studs,1e9,part", ",1,part"])
def test_a_bad_part_is_said(row):
    checked = check("parts", f"name,price,kind\n{row}\n")
    assert checked.problems
    assert all(says.endswith(".") for *_, says in checked.problems)


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "empty"), (b"   \n", "empty"), (b"PK\x03\x04rest", "spreadsheet's own file"),
        (b"\x89PNG\r\n\x1a\n", "picture"), (b"%PDF-1.7", "PDF"), (b"MZ\x90", "program"),
        (b"name\nJon\0\n", "NUL"), (b"name\n\x81\n", "cannot be read as text"), (b"name\n", "no row"),
        (b"name,name\nA,B\n", "Two columns"), (b"firm\nA\n", "no column"), (b'name\n"open\n', "no table"),
        (b"name\nA,B\n", "more cells"), (b"name\n" + b"x" * 6000, "more than 5000"),
        (b"name\n" + b"x" * 200_000, "no table|more than"),
        (b",".join([b"a%d" % n for n in range(200)]) + b"\n1\n", "100"),
    ],
)  # fmt: skip
def test_hostile_files_are_answered_with_a_sentence(data, says):
    with pytest.raises(FileRefused, match=says) as refused:
        check("customers", data)
    assert str(refused.value).endswith(".")


def test_too_large_a_file_is_refused_on_the_page(as_person, ada):
    page = upload(as_person(ada), "customers", b"name\n" + b"x\n" * 5_000_000)
    assert page.status_code == 422
    assert "Split it" in page.text


def test_a_hostile_name_does_no_harm(as_person, ada):
    page = upload(as_person(ada), "customers", b"name\nJon\n", "../../<script>.csv")
    assert page.status_code == 200
    assert "<script>.csv" not in page.text


def test_other_encodings_are_read_and_said():
    assert check("customers", "name\nLéa\n".encode("utf-16")).made[0].name == "Léa"
    guessed = check("customers", "name\nLéa\n".encode("cp1252"))
    assert (guessed.made[0].name, guessed.guessed) == ("Léa", True)


def test_what_was_neutralised_comes_back_as_it_was():
    assert check("customers", "name\n'=Sum & Co\n").made[0].name == "=Sum & Co"


def test_address_cards_go_out_and_come_in(as_person, ada):
    # RFC 6350 section 3.4: commas, semicolons and line breaks in values are escaped.
    who = factories.customer(name="Odell; Léa, the elder", address="3 Weir Street\nMarlow", company="A, B")
    text = as_person(ada).get(f"/customers/{who.pk}/card.vcf").content.decode()
    assert "VERSION:4.0" in text
    assert "FN:Odell\\; Léa\\, the elder" in text
    Customer.objects.all().delete()
    back = check("customers", card_of(who)).made[0]
    assert (back.name, back.email, back.phone, back.company) == (who.name, who.email, who.phone, "A, B")
    assert "3 Weir Street" in back.address


@pytest.mark.parametrize("bad", ["BEGIN:VCARD\nFN:x\n", "BEGIN:VCARD\nnonsense\nEND:VCARD\n",
                                 "BEGIN:VCARD\nVERSION:2.1\nN;ENCODING=QUOTED-PRINTABLE:=C3\nEND:VCARD\n"])  # fmt: skip
def test_broken_cards_are_said(bad):
    with pytest.raises(FileRefused, match=r"\.$"):
        check("customers", bad)


