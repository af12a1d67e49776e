"""The views of lists that somebody keeps for themselves."""

from django import forms
from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from shop.lib.folding import printable
from shop.staff import access, keeping
from shop.staff.access import may


class NameForm(forms.Form):
    name = forms.CharField(label="name", max_length=40, widget=forms.TextInput({"autocomplete": "off"}))

    def clean_name(self):
        return " ".join(printable(self.cleaned_data["name"]).split())


@require_POST
@may("see orders")
def keep(request):
    form, asked = NameForm(request.POST), {name: request.POST.get(name, "") for name in ("page", "query")}
    if form.is_valid():
        try:
            view = keeping.keep(request.user, name=form.cleaned_data["name"], **asked)
        except keeping.NotAllowed as refusal:
            form.add_error("name", str(refusal))
        else:
            messages.success(request, f"“{view}” is kept.")
            return redirect(view.address)
    return render(request, "staff/kept_view.html", {"form": form, "asked": asked}, status=422)


@require_http_methods(["GET", "HEAD", "POST"])
@may("see orders")
def view(request, pk):
    """One of your own views: another name, or none any more."""
    one = access.kept_view(request.user, pk)
    form = NameForm(request.POST or None, initial={"name": one.name})
    if request.method == "POST" and form.is_valid():
        try:
            keeping.rename(one, form.cleaned_data["name"])
        except keeping.NotAllowed as refusal:
            form.add_error("name", str(refusal))
        else:
            messages.success(request, f"It is called “{one}” now.")
            return redirect(one.address)
    return render(request, "staff/kept_view.html", {"form": form, "view": one}, status=422 if form.errors else 200)


@require_POST
@may("see orders")
def drop(request, pk):
    one = access.kept_view(request.user, pk)
    one.delete()
    messages.success(request, f"“{one}” is removed.")
    return redirect(one.page)
