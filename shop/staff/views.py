"""Signing in, one's own password, the workshop's details and who works here."""

import math

from django.conf import settings
from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.contrib.auth import views as auth
from django.contrib.auth.decorators import login_not_required
from django.shortcuts import redirect, render
from django.utils.decorators import method_decorator
from django.views.decorators.http import require_http_methods, require_safe

from shop.lib.throttle import said
from shop.staff import access, entry, services
from shop.staff.access import may
from shop.staff.forms import PersonForm, WorkshopForm
from shop.staff.models import Person, Workshop

GET_POST = require_http_methods(["GET", "HEAD", "POST"])


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
        shown = self.get_context_data(form=self.get_form(), wait=said(wait))
        answer = self.render_to_response(shown, status=429)
        answer["Retry-After"] = math.ceil(wait)
        return answer

    def form_valid(self, form):
        entry.entered(self.request, form.cleaned_data["username"])
        return super().form_valid(form)


class SignOut(auth.LogoutView):
    pass


class Password(Refused422, auth.PasswordChangeView):
    template_name = "staff/password.html"
    success_url = "/"

    def form_valid(self, form):
        messages.success(self.request, "Your password is changed.")
        return super().form_valid(form)


@GET_POST
@may("edit workshop")
def workshop(request):
    form = WorkshopForm(request.POST or None, instance=Workshop.here())
    if request.method == "POST" and form.is_valid():
        form.save_changes()
        messages.success(request, "The workshop's details are saved.")
        return redirect("workshop")
    page = {"form": form, "mail_from": settings.MAIL_FROM}
    return render(request, "staff/workshop_form.html", page, status=422 if form.errors else 200)


@require_safe
@may("edit staff")
def staff(request):
    return render(request, "staff/person_list.html", {"people": Person.objects.order_by("-is_active", "shown_name")})


@GET_POST
@may("edit staff")
def person_new(request):
    form = PersonForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        new = services.add_person(**form.cleaned_data)
        messages.success(request, f"{new} can sign in now.")
        return redirect("staff")
    return render(request, "staff/person_form.html", {"form": form}, status=422 if form.errors else 200)


@GET_POST
@may("edit staff")
def person_edit(request, pk):
    person = access.person(pk)
    start = {"shown_name": person.shown_name, "role": person.role, "is_active": person.is_active}
    form = PersonForm(request.POST or None, person=person, initial=start)
    if request.method == "POST" and form.is_valid():
        try:
            services.change_person(person, **form.cleaned_data)
        except services.NotAllowed as refused:
            form.add_error("role", str(refused))
        else:
            messages.success(request, f"{person} is saved.")
            return _after(request, person)
    return render(
        request, "staff/person_form.html", {"form": form, "person": person}, status=422 if form.errors else 200
    )


def _after(request, person):
    """To the list; whoever changed themselves stays signed in, and goes where they may still go."""
    if person == request.user:
        update_session_auth_hash(request, person)
        return redirect("staff" if person.may("edit staff") else "home")
    return redirect("staff")
