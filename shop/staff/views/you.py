"""How you come in: password, PIN, second factor, and the devices you are signed in on."""

from django.contrib import messages
from django.contrib.auth import views as auth
from django.shortcuts import redirect, render
from django.urls import reverse_lazy
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from shop.lib.dates import today
from shop.lib.paging import page_of
from shop.lib.sheets import csv_download
from shop.lib.throttle import said
from shop.staff import access, audit, codes, entry, listing, services
from shop.staff.entry_forms import ChangePasswordForm, OwnPasswordForm, PinForm, SecondFactorForm
from shop.staff.views.entry import Refused422, too_soon

GET_POST = require_http_methods(["GET", "HEAD", "POST"])
ENTRY = audit.AuditKind.ENTRY


class Password(Refused422, auth.PasswordChangeView):
    form_class = ChangePasswordForm
    template_name = "staff/password.html"
    success_url = reverse_lazy("you")

    def form_valid(self, form):
        answer = super().form_valid(form)
        services.end_sessions(self.request.user, but=self.request.session.session_key)
        audit.write(ENTRY, "A new password, chosen by themselves.")
        messages.success(self.request, "Your password is changed.")
        return answer


def show(request, status=200, **forms):
    person = request.user
    found, sorting = listing.devices(person, request.GET)
    shown = {
        "pin_form": PinForm(person=person, prefix="pin"), "codes_form": OwnPasswordForm(person=person, prefix="codes"),
        "has_codes": codes.has_codes(person), "codes_left": codes.recovery_codes_left(person),
        "page": page_of(request, found), "sorting": sorting, "this_device": request.session.session_key,
    }  # fmt: skip
    return render(request, "staff/you.html", shown | forms, status=status)


@require_safe
def you(request):
    return show(request)


@require_safe
def devices_csv(request):
    """Where you are signed in, for a spreadsheet."""
    rows = listing.device_rows(listing.devices(request.user, request.GET)[0])
    return csv_download(f"devices-{today()}.csv", listing.DEVICE_HEADS, rows)


@require_POST
def pin(request):
    """A new PIN, or with `none` no PIN any more."""
    if "none" in request.POST:
        services.set_pin(request.user, "")
        messages.success(request, "You have no PIN any more.")
        return redirect("you")
    form = PinForm(request.POST, person=request.user, prefix="pin")
    if wait := entry.try_own_password(request):
        return too_soon(show(request, pin_form=form, wait=said(wait)), wait)
    if not form.is_valid():
        return show(request, 422, pin_form=form)
    services.set_pin(request.user, form.cleaned_data["pin"])
    messages.success(request, "Your PIN is set. It opens a device on which you are signed in already.")
    return redirect("you")


@GET_POST
def second_factor(request):
    """Set a telephone up: read the picture, type what the telephone shows."""
    key = request.session.setdefault("telephone", codes.new_key())
    device = codes.telephone(request.user, key)
    form = SecondFactorForm(request.POST or None, person=request.user)
    shown = {
        "form": form, "picture": codes.picture_of(device, workshop=request.workshop), "secret": codes.secret_of(device),
        "must": request.workshop.owners_use_codes,
    }  # fmt: skip
    if request.method != "POST":
        return render(request, "staff/second_factor.html", shown)
    if wait := entry.try_own_password(request):
        return too_soon(render(request, "staff/second_factor.html", shown | {"wait": said(wait)}), wait)
    if form.is_valid():
        if given := codes.confirm(request.user, key, form.cleaned_data["code"]):
            return _confirmed(request, given)
        form.add_error("code", "This is not the code of the moment. Look whether the telephone's clock is right.")
    return render(request, "staff/second_factor.html", shown, status=422)


def _confirmed(request, given):
    request.session["second"] = True
    request.session.pop("telephone", None)
    audit.write(ENTRY, "A telephone set up as second factor.")
    return render(request, "staff/recovery_codes.html", {"codes": given})


@require_POST
def codes_anew(request):
    return _with_password(request, _anew)


@require_POST
def codes_drop(request):
    return _with_password(request, _drop)


def _anew(request):
    audit.write(ENTRY, "New recovery codes; the earlier ones are void.")
    return render(request, "staff/recovery_codes.html", {"codes": codes.new_recovery_codes(request.user)})


def _drop(request):
    services.drop_codes(request.user)
    request.session.pop("second", None)
    messages.success(request, "Your password alone is enough again.")
    return redirect("you")


def _with_password(request, act):
    if not codes.has_codes(request.user):
        messages.info(request, "You have no second factor; set one up first.")
        return redirect("you")
    form = OwnPasswordForm(request.POST, person=request.user, prefix="codes")
    if wait := entry.try_own_password(request):
        return too_soon(show(request, codes_form=form, wait=said(wait)), wait)
    if not form.is_valid():
        return show(request, 422, codes_form=form)
    return act(request)


@require_POST
def device_out(request, mark):
    """End the sign-in on one of your devices."""
    access.device(request.user, mark).delete()
    messages.success(request, "That device is signed out.")
    return redirect("you")


@require_POST
def others_out(request):
    services.end_sessions(request.user, but=request.session.session_key)
    audit.write(ENTRY, "Signed out on all other devices.")
    messages.success(request, "You are signed out on every other device.")
    return redirect("you")
