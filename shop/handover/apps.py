from django.apps import AppConfig


class HandoverConfig(AppConfig):
    name = "shop.handover"
    label = "handover"
