"""The cast and the things of the tests, built by plain functions; only what matters is spelled out by the caller.

Ada owns the workshop, Ben works at the bench, Cleo stands at the counter.
"""

from shop.instruments.models import Instrument
from shop.people.models import Customer
from shop.staff.models import Person, Workshop
from shop.staff.roles import Role

PASSWORD = "a long oak plank"


def person(username, role, **fields):
    fields.setdefault("shown_name", username.capitalize())
    return Person.objects.create_user(username=username, password=PASSWORD, role=role, **fields)


def ada():
    return person("ada", Role.OWNER)


def ben():
    return person("ben", Role.BENCH)


def cleo():
    return person("cleo", Role.COUNTER)


def workshop(**fields):
    here = Workshop.here()
    for name, value in fields.items():
        setattr(here, name, value)
    here.save(update_fields=list(fields) or None)
    return here


def customer(name="Mara Fell", **fields):
    fields.setdefault("email", "mara@example.com")
    fields.setdefault("phone", "+44 1632 960123")
    return Customer.objects.create(name=name, **fields)


def instrument(owner=None, **fields):
    fields.setdefault("maker", "Larkrise")
    fields.setdefault("model_name", "Two-Post")
    fields.setdefault("serial", "LR-0412")
    return Instrument.objects.create(customer=owner or customer(), **fields)
