import importlib

from django.apps import AppConfig


class HandoverConfig(AppConfig):
    name = "shop.handover"
    label = "handover"

    def ready(self):
        importlib.import_module("shop.handover.hooked")  # only now: it imports models
