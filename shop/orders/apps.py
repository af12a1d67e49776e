import importlib

from django.apps import AppConfig


class OrdersConfig(AppConfig):
    name = "shop.orders"
    label = "orders"

    def ready(self):
        importlib.import_module("shop.orders.hooked")  # only now: it imports models
