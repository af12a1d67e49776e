import importlib

from django.apps import AppConfig


class FiguresConfig(AppConfig):
    name = "shop.figures"
    label = "figures"

    def ready(self):
        importlib.import_module("shop.figures.hooked")  # only now: it imports models
