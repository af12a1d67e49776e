from django.apps import AppConfig


class FiguresConfig(AppConfig):
    name = "shop.figures"
    label = "figures"
