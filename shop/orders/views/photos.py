"""Photographs: of a draft, of an order, and the pictures themselves."""

import uuid
from functools import partial

from django.contrib import messages
from django.http import FileResponse, Http404
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from shop.orders import access, photographing, services
from shop.orders import counter as page
from shop.orders.forms.details import PhotoForm
from shop.orders.forms.pieces import JobForm
from shop.staff.access import may

A_DAY = 24 * 3600


@require_POST
@may("book in")
def keep_draft(request):
    """Keep photographs while the rest of the book-in is still being typed: one with its key, or several from a form."""
    job = JobForm(request.POST, request.FILES, prefix="job")
    upload_key = read_key(request.POST.get("key"))
    problems = photographing.keep_with_draft(job, by=request.user, upload_key=upload_key)
    return show_drafts(request, job["draft_key"].value(), problems=problems)


@require_POST
@may("book in")
def drop_draft(request, pk):
    photo = access.draft_photo(request.user, pk)
    services.remove_photo(photo, by=request.user)
    return show_drafts(request, photo.draft_key)


@require_safe
@may("book in")
def drafts(request):
    """The photographs of a draft that was taken up again."""
    return show_drafts(request, request.GET.get("draft_key", ""), of_marks=request.GET.getlist("mark"))


@require_safe
@may("book in")
def of_mark(request, sent_as):
    """The small picture of a mark that is not booked in yet, by the key under which it was sent."""
    return picture(access.draft_photo_sent_as(request.user, sent_as).thumb, "image/jpeg")


def read_key(text):
    """The key under which a photograph is sent; None where there is none."""
    try:
        return uuid.UUID(str(text))
    except ValueError:
        return None


def show_drafts(request, draft_key, *, problems=(), of_marks=()):
    shows = {"draft_photos": page.draft_photos(draft_key, of_marks=of_marks), "photo_problems": problems}
    return render(request, "counter/_draft_photos.html", shows, status=422 if problems else 200)


@require_POST
@may("move orders")
def add(request, number):
    order = access.order(request.user, number)
    form = PhotoForm(request.POST, request.FILES)
    files = request.FILES.getlist("photos")
    caption = form.cleaned_data["caption"] if form.is_valid() else ""
    problems = photographing.keep_all(files, partial(services.add_photo, order, by=request.user, caption=caption))
    for problem in problems:
        messages.error(request, problem)
    if len(problems) < len(files):
        messages.success(request, "The photographs are kept." if len(files) > 1 else "The photograph is kept.")
    elif not files:
        messages.error(request, "Choose a photograph first.")
    return redirect("order", number)


@require_POST
@may("move orders")
def remove(request, pk):
    photo = access.photo(request.user, pk)
    if photo.order is None:
        raise Http404("This photograph belongs to no order.")
    try:
        services.remove_photo(photo, by=request.user)
        messages.success(request, "The photograph is removed.")
    except services.NotAllowed as refusal:
        messages.error(request, str(refusal))
    return redirect("order", photo.order.number)


@require_safe
@may("see orders")
def show(request, pk):
    """The picture; `?size=small` for lists."""
    photo = access.photo(request.user, pk)
    return picture(photo.thumb if request.GET.get("size") == "small" else photo.file, "image/jpeg")


@require_safe
@may("see orders")
def signature(request, number):
    order = access.order(request.user, number)
    if not order.signature:
        raise Http404("Nothing was signed.")
    return picture(order.signature, "image/png")


def picture(file, kind):
    """A kept picture. It never changes under its address, so the browser may keep it for its own person."""
    try:
        answer = FileResponse(file.open("rb"), content_type=kind)
    except FileNotFoundError:
        raise Http404("The file is not there any more.") from None
    answer["Cache-Control"] = f"private, max-age={A_DAY}"
    return answer
