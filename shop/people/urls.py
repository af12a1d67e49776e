"""Addresses of the customers."""

from django.urls import path

from shop.people import views

urlpatterns = [
    path("customers/", views.customers, name="customers"),
    path("customers/export.csv", views.export, name="customers-export"),
    path("customers/new/", views.new, name="customer-new"),
    path("customers/<int:pk>/", views.customer, name="customer"),
    path("customers/<int:pk>/edit/", views.edit, name="customer-edit"),
    path("customers/<int:pk>/delete/", views.delete, name="customer-delete"),
]
