import importlib

from django.apps import AppConfig


class WorksheetsConfig(AppConfig):
    name = "shop.worksheets"
    label = "worksheets"

    def ready(self):
        importlib.import_module("shop.worksheets.hooked")  # only now: it imports models
