import importlib

from django.apps import AppConfig


class BillingConfig(AppConfig):
    name = "shop.billing"
    label = "billing"

    def ready(self):
        importlib.import_module("shop.billing.hooked")  # only now: it imports models
