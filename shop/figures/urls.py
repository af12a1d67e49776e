"""Addresses of the owner's figures."""

from django.urls import path

from shop.figures import views

urlpatterns = [
    path("figures/", views.page, name="figures"),
    path("figures/<slug:key>.csv", views.table, name="figures-csv"),
]
