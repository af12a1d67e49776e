"""Addresses of instruments."""

from django.urls import path

from shop.instruments import views

urlpatterns = [
    path("customers/<int:customer_pk>/instruments/new/", views.instrument_new, name="instrument-new"),
    path("instruments/<int:pk>/", views.instrument, name="instrument"),
    path("instruments/<int:pk>/edit/", views.instrument_edit, name="instrument-edit"),
    path("instruments/<int:pk>/specification/", views.specification, name="specification"),
    path("instruments/<int:pk>/strings/", views.strings, name="instrument-strings"),
]
