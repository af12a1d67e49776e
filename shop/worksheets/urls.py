"""The bench's addresses."""

from django.urls import path

from shop.worksheets.views import (
    accepting,
    bench,
    likes,
    photos,
    planning,
    profiles,
    readings,
    rechecks,
    signing,
    step,
    steps,
    times,
)  # fmt: skip

SHEET = "bench/<int:pk>/"
STEP = "bench/<int:pk>/<slug:step>/"

urlpatterns = [
    path("bench/", bench.bench, name="bench"),
    path("bench/start/<int:pk>/", bench.start, name="worksheet-start"),
    path(SHEET, step.worksheet, name="worksheet"),
    path(f"{SHEET}compare/", signing.compare, name="worksheet-compare"),
    path(f"{SHEET}sign/", signing.sign, name="worksheet-sign"),
    path(f"{SHEET}reopen/", signing.reopen, name="worksheet-reopen"),
    path(f"{SHEET}accept/", accepting.accept, name="finding-accept"),
    path(f"{SHEET}withdraw/", accepting.withdraw, name="finding-withdraw"),
    path(f"{SHEET}plan/", planning.plan, name="worksheet-plan"),
    path(f"{SHEET}plan/offer/", planning.offer, name="worksheet-offer"),
    path(STEP, step.step, name="worksheet-step"),
    path(f"{STEP}live/", step.live, name="step-live"),
    path(f"{STEP}history/", step.history, name="reading-history"),
    path(f"{STEP}save/", readings.save, name="reading-save"),
    path(f"{STEP}choose/", readings.choose, name="reading-choose"),
    path(f"{STEP}undo/", readings.undo, name="reading-undo"),
    path(f"{STEP}done/", steps.done, name="step-done"),
    path(f"{STEP}skip/", steps.skip, name="step-skip"),
    path(f"{STEP}open/", steps.reopen_step, name="step-open"),
    path(f"{STEP}note/", steps.note, name="step-note"),
    path(f"{STEP}photos/", photos.add, name="step-photos"),
    path(f"{STEP}photos/<int:photo>/remove/", photos.remove, name="step-photo-remove"),
    path(f"{STEP}span/", times.span, name="step-span"),
    path(f"{STEP}time/", times.by_hand, name="step-time"),
    path(f"{STEP}stringing/", steps.stringing, name="step-stringing"),
    path("instruments/<int:pk>/likes/", likes.of_instrument, name="instrument-likes"),
    path("customers/<int:pk>/likes/<slug:kind>/", likes.of_customer, name="customer-likes"),
    path("office/recheck/", rechecks.page, name="recheck"),
    path("office/recheck/rule/", rechecks.rule, name="recheck-rule"),
    path("office/recheck/begin/", rechecks.begin, name="recheck-begin"),
    path("office/recheck/<int:pk>/go-on/", rechecks.go_on, name="recheck-go-on"),
    path("office/recheck/<int:pk>/stop/", rechecks.stop, name="recheck-stop"),
    path("office/recheck/<int:pk>/take/", rechecks.take, name="recheck-take"),
    path("office/profiles/", profiles.profiles, name="profiles"),
    path("office/profiles/<int:pk>/", profiles.profile, name="profile"),
    path("office/profiles/<int:pk>/copy/", profiles.copy, name="profile-copy"),
    path("office/profiles/<int:pk>/usual/", profiles.make_usual, name="profile-usual"),
    path("office/profiles/<int:pk>/delete/", profiles.delete, name="profile-delete"),
]
