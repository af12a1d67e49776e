from django.apps import AppConfig


class GeometryConfig(AppConfig):
    name = "geometry"
