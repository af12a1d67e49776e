"""Addresses of the price list."""

from django.urls import path

from shop.stock import views

urlpatterns = [
    path("prices/", views.prices, name="prices"),
    path("prices/new/", views.price_new, name="price-new"),
    path("prices/<int:pk>/", views.price_edit, name="price-edit"),
]
