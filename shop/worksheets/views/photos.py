"""Photographs of a step, from the tablet's camera."""

from django.views.decorators.http import require_POST

from shop.staff.access import may
from shop.worksheets import access, services
from shop.worksheets.forms import StepPhotoForm
from shop.worksheets.services.errors import Refused
from shop.worksheets.views.common import done_with, refused, step_or_404


@require_POST
@may("work worksheets")
def add(request, pk, step):
    sheet = access.worksheet_to_work(request.user, pk)
    place = step_or_404(sheet, step)
    form = StepPhotoForm(request.POST)
    if not form.is_valid():
        return refused(request, sheet, place, "photos", form.problem())
    try:
        services.add_step_photos(sheet, step=place.key, files=request.FILES.getlist("photos"), by=request.user,
                                 **form.cleaned_data)  # fmt: skip
    except Refused as problem:
        return refused(request, sheet, place, "photos", problem)
    return done_with(request, sheet, place)


@require_POST
@may("work worksheets")
def remove(request, pk, step, photo):
    sheet = access.worksheet_to_work(request.user, pk)
    place = step_or_404(sheet, step)
    try:
        services.remove_step_photo(sheet, photo=access.photo_of(sheet, photo), by=request.user)
    except Refused as problem:
        return refused(request, sheet, place, "photos", problem)
    return done_with(request, sheet, place)
