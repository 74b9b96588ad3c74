from django.apps import AppConfig


class CoopConfig(AppConfig):
    name = "coop"
    verbose_name = "Carton Hour"
