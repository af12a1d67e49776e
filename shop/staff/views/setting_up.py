"""The first set-up, and the workshop's logo."""

from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.core.files.storage import default_storage
from django.http import FileResponse, Http404
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from shop.lib.images import ImageRefused
from shop.staff import audit, setting_up
from shop.staff.access import may
from shop.staff.models import Workshop
from shop.staff.setup_forms import LogoForm, OwnerForm, step_form

GET_POST = require_http_methods(["GET", "HEAD", "POST"])


@require_safe
@may("edit workshop")
def resume(request):
    """Where it was left."""
    step = request.workshop.set_up_step or next(iter(setting_up.STEPS))
    return redirect("set-up-step", step)


@GET_POST
@may("edit workshop")
def step(request, step):
    if step not in setting_up.STEPS:
        raise Http404
    form = _form(request, step)
    if request.method == "POST" and form.is_valid():
        _save(request, step, form)
        waits = setting_up.reached(step)
        if after := setting_up.step_after(step) or waits:
            return redirect("set-up-step", after)
        messages.success(request, "The workshop is set up. Everything can be changed here in the office.")
        return redirect("office")
    title, why = setting_up.STEPS[step]
    shows = {"form": form, "step": step, "title": title, "why": why, "steps": setting_up.STEPS}
    return render(request, "staff/set_up.html", shows, status=422 if form.errors else 200)


def _form(request, step):
    if step == "you":
        return OwnerForm(request.POST or None, person=request.user, initial={"shown_name": request.user.shown_name})
    return step_form(step, request.POST or None, instance=Workshop.here())


def _save(request, step, form):
    if step == "you":
        setting_up.name_owner(request.user, **form.cleaned_data)
        update_session_auth_hash(request, request.user)
    elif changed := form.changes:
        form.save_changes()
        audit.write(audit.AuditKind.SETTINGS, f"The workshop's details changed: {', '.join(changed)}.")


@require_POST
@may("edit workshop")
def end(request):
    """Not now (this sign-in only), or not at all."""
    if "later" in request.POST:
        request.session[setting_up.LATER] = True
    else:
        setting_up.end()
        messages.success(request, "The set-up is ended. Everything can be changed under “The workshop's details”.")
    return redirect("office")


@GET_POST
@may("edit workshop")
def logo(request):
    form = LogoForm(request.POST or None, request.FILES or None)
    if request.method == "POST" and form.is_valid():
        try:
            setting_up.keep_logo(form.cleaned_data["file"])
        except ImageRefused as refusal:
            form.add_error("file", str(refusal))
        else:
            messages.success(request, "The logo stands on every paper made from now on.")
            return redirect("workshop-logo")
    return render(request, "staff/logo.html", {"form": form}, status=422 if form.is_bound else 200)


@require_POST
@may("edit workshop")
def logo_drop(request):
    setting_up.drop_logo()
    messages.success(request, "Papers are made without a logo from now on.")
    return redirect("workshop-logo")


@require_safe
@may("edit workshop")
def logo_picture(request):
    name = request.workshop.logo.name
    if not name or not default_storage.exists(name):
        raise Http404
    return FileResponse(default_storage.open(name), content_type="image/jpeg")
