"""What this device prefers at the bench."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from shop.lib.way_back import way_back
from shop.staff.access import may
from shop.worksheets.device import Device, device_of, keep
from shop.worksheets.forms import DeviceForm
from shop.worksheets.shown.devices import gauges_of


@require_http_methods(["GET", "POST"])
@may("see worksheets")
def device(request):
    here = device_of(request)
    form = DeviceForm(request.POST or None, initial={"unit": here.unit}, workshop=request.workshop)
    if request.method == "POST" and form.is_valid():
        gauges = {} if "forget" in request.POST else here.gauges
        messages.success(request, "This device remembers it.")
        return keep(redirect(_back(request)), Device(form.cleaned_data["unit"], gauges))
    shown = {"form": form, "gauges": gauges_of(here), "back": _back(request)}
    return render(request, "worksheets/device.html", shown, status=422 if form.is_bound else 200)


def _back(request):
    return way_back(request.POST.get("next") or request.GET.get("next", ""), reverse("bench"))
