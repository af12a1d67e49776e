"""The app's addresses and one page more, which shows every component at once. Only tests have it."""

from pathlib import Path

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.template import engines
from django.urls import path

from shop.orders.states import State
from shop.urls import urlpatterns as own

PAGE = Path(__file__).parent / "look" / "components.html"
VERDICTS = (
    ("fine", "in range"), ("amiss", "out of range"), ("close", "too close to call"), ("missing", "not read yet"),
    ("stale", "read it again"), ("assumed", "assumed"), ("accepted", "accepted"), ("stated", "for the record"),
)  # fmt: skip


class Sample(forms.Form):
    name = forms.CharField(help_text="As it stands on papers.")
    height = forms.DecimalField(label="height at fret 12")
    kind = forms.ChoiceField(choices=[("electric", "electric"), ("nylon", "nylon")])
    hand = forms.ChoiceField(choices=[("right", "right"), ("left", "left")], widget=forms.RadioSelect)
    agreed = forms.BooleanField(required=False, label="agreed with the customer")


def components(request):
    messages.success(request, "The order is booked in.")
    messages.error(request, "The tag could not be printed.")
    form = Sample({"name": "", "height": "low", "kind": "nylon", "hand": "left", "agreed": "on"})
    page = {"form": form, "verdicts": [(k, w) for k, w in VERDICTS], "states": State.choices}
    return HttpResponse(engines["django"].from_string(PAGE.read_text(encoding="utf-8")).render(page, request))


def breaks(request):
    raise RuntimeError("This page breaks so that one sees what is shown then.")


urlpatterns = [*own, path("look/", components), path("look/breaks/", breaks)]
