"""Addresses of customers."""

from django.urls import path

from shop.people import views

urlpatterns = [
    path("customers/", views.customers, name="customers"),
    path("customers/new/", views.customer_new, name="customer-new"),
    path("customers/<int:pk>/", views.customer, name="customer"),
    path("customers/<int:pk>/edit/", views.customer_edit, name="customer-edit"),
]
