import importlib

from django.apps import AppConfig


class StockConfig(AppConfig):
    name = "shop.stock"
    label = "stock"

    def ready(self):
        importlib.import_module("shop.stock.hooked")  # only now: it imports models
