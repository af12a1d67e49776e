"""Addresses of the instruments."""

from django.urls import path

from shop.instruments import views

urlpatterns = [
    path("customers/<int:pk>/instruments/new/", views.new, name="instrument-new"),
    path("instruments/", views.instruments, name="instruments"),
    path("instruments/export.csv", views.export, name="instruments-export"),
    path("instruments/<int:pk>/", views.instrument, name="instrument"),
    path("instruments/<int:pk>/edit/", views.edit, name="instrument-edit"),
    path("instruments/<int:pk>/measurements/", views.measurements, name="instrument-spec"),
    path("instruments/<int:pk>/strings/", views.strings, name="instrument-strings"),
    path("instruments/<int:pk>/delete/", views.delete, name="instrument-delete"),
]
