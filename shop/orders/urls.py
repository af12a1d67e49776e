"""Addresses of orders, the counter and the office."""

from django.urls import path

from shop.orders.views import listing, office

urlpatterns = [
    path("", office.home, name="home"),
    path("office/", office.office, name="office"),
    path("orders/", listing.orders, name="orders"),
    path("orders/orders.csv", listing.orders_csv, name="orders-csv"),
]
