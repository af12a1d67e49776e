"""Coming in: the password, the code, the device that was left alone, and the way back for whoever forgot."""

import math
import time

from django.contrib import messages
from django.contrib.auth import login, logout
from django.contrib.auth import views as auth
from django.contrib.auth.decorators import login_not_required
from django.shortcuts import redirect, render
from django.urls import reverse_lazy
from django.utils.decorators import method_decorator
from django.views.decorators.http import require_http_methods, require_POST

from shop.lib.throttle import said
from shop.lib.way_back import way_back
from shop.staff import access, audit, codes, entry, guard, letters
from shop.staff.entry_forms import CodeForm, ForgottenForm, ReEnterForm, ResetPasswordForm

GET_POST = require_http_methods(["GET", "HEAD", "POST"])
HALF_WAY_S = 600
ENTRY = audit.AuditKind.ENTRY


class Refused422:
    """A form that was not taken is shown again with status 422."""

    def form_invalid(self, form):
        response = super().form_invalid(form)
        response.status_code = 422
        return response


@method_decorator(login_not_required, name="dispatch")
class SignIn(Refused422, auth.LoginView):
    template_name = "staff/sign_in.html"
    redirect_authenticated_user = True

    def post(self, request, *args, **kwargs):
        wait = entry.try_to_enter(request, request.POST.get("username", ""))
        if not wait:
            return super().post(request, *args, **kwargs)
        answer = self.render_to_response(self.get_context_data(form=self.get_form(), wait=said(wait)))
        return too_soon(answer, wait)

    def form_invalid(self, form):
        audit.write(ENTRY, f"Signing in refused: {entry.whose(form.data.get('username', ''))}.")
        return super().form_invalid(form)

    def form_valid(self, form):
        return entry.entered(self.request, redirect(self.next_after(form.get_user())), form.cleaned_data["username"])

    def next_after(self, person):
        """The code that is still asked for, or where they wanted to go."""
        if codes.has_codes(person):
            half = {"pk": person.pk, "at": time.time(), "next": self.get_redirect_url()}
            self.request.session["half"] = half
            return "sign-in-code"
        come_in(self.request, person, "by password")
        return self.get_success_url()


def come_in(request, person, how):
    login(request, person)
    audit.write(ENTRY, f"Signed in {how}.", by=person)


def too_soon(answer, wait):
    answer.status_code = 429
    answer["Retry-After"] = math.ceil(wait)
    return answer


@GET_POST
@login_not_required
def sign_in_code(request):
    """The second half of signing in. What the first half proved is good for ten minutes."""
    half = request.session.get("half") or {}
    if not 0 <= time.time() - half.get("at", 0) <= HALF_WAY_S:
        return redirect("sign-in")
    person = access.person(half["pk"])
    form = CodeForm(request.POST or None)
    if request.method != "POST":
        return render(request, "staff/sign_in_code.html", {"form": form})
    if wait := codes.TRIES.take(person.pk):
        return too_soon(render(request, "staff/sign_in_code.html", {"form": form, "wait": said(wait)}), wait)
    if not (form.is_valid() and person.is_active and codes.is_right(person, form.cleaned_data["code"])):
        audit.write(ENTRY, "A wrong code after the right password.", by=person)
        return render(request, "staff/sign_in_code.html", {"form": form, "wrong": True}, status=422)
    codes.TRIES.forget(person.pk)
    come_in(request, person, "by password and code")
    request.session.pop("half", None)
    request.session["second"] = True
    return redirect(safe(half.get("next")))


class SignOut(auth.LogoutView):
    def post(self, request, *args, **kwargs):
        if request.user.is_authenticated:
            audit.write(ENTRY, "Signed out.")
        return super().post(request, *args, **kwargs)


@require_POST
def lock(request):
    """Locked by hand: the device is laid down where others pass."""
    guard.lock(request)
    return redirect(guard.to_open(request))


@GET_POST
def re_enter(request):
    """The device was left alone: the last person opens it again, by PIN or password."""
    to = safe(request.POST.get("next") or request.GET.get("next"))
    if not guard.is_locked(request):
        return redirect(to)
    form = ReEnterForm(request.POST or None)
    shown = {"form": form, "next": to, "takes_pin": entry.takes_pin(request)}
    if request.method != "POST":
        return render(request, "staff/re_enter.html", shown)
    if entry.too_many(request):
        audit.write(ENTRY, "Signed out: too many tries to open a locked device.")
        logout(request)
        messages.error(request, "That were too many tries. Sign in with name and password.")
        return redirect("sign-in")
    if not (form.is_valid() and entry.opens(request, form.cleaned_data["word"])):
        audit.write(ENTRY, "A wrong PIN or password on a locked device.")
        return render(request, "staff/re_enter.html", shown | {"wrong": True}, status=422)
    guard.unlock(request)
    return redirect(to)


def safe(address):
    """`address` if it leads nowhere but here, otherwise the beginning."""
    return way_back(address or "", "/")


@GET_POST
@login_not_required
def forgotten(request):
    """Asks for a letter with a link to a new password; says the same whether there is such a person or not."""
    form = ForgottenForm(request.POST or None)
    if request.method != "POST":
        return render(request, "staff/forgotten.html", {"form": form})
    if not form.is_valid():
        return render(request, "staff/forgotten.html", {"form": form}, status=422)
    if wait := entry.try_to_ask(request):
        return too_soon(render(request, "staff/forgotten.html", {"form": form, "wait": said(wait)}), wait)
    letters.ask(form.cleaned_data["who"])
    return render(request, "staff/forgotten.html", {"form": form, "asked": True})


@method_decorator(login_not_required, name="dispatch")
class NewPassword(Refused422, auth.PasswordResetConfirmView):
    form_class = ResetPasswordForm
    template_name = "staff/new_password.html"
    success_url = reverse_lazy("sign-in")

    def form_valid(self, form):
        answer = super().form_valid(form)
        audit.write(ENTRY, "A new password by a mailed link.", by=self.user)
        messages.success(self.request, "Your new password is set. Sign in with it.")
        return answer
