import importlib

from django.apps import AppConfig


class InstrumentsConfig(AppConfig):
    name = "shop.instruments"
    label = "instruments"

    def ready(self):
        importlib.import_module("shop.instruments.hooked")  # only now: it imports models
