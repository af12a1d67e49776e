"""Addresses of the owner's figures."""

from django.urls import path

from shop.figures import views
from shop.figures.carrying import views as carrying

urlpatterns = [
    path("figures/", views.page, name="figures"),
    path("figures/<slug:key>.csv", views.table, name="figures-csv"),
    path("office/data/", carrying.data, name="data"),
    path("office/data/everything.zip", carrying.everything, name="data-everything"),
    path("office/data/customers.vcf", carrying.all_cards, name="data-cards"),
    path("office/data/<slug:kind>/", carrying.read_in, name="import"),
    path("office/data/<slug:kind>/empty.csv", carrying.empty_table, name="import-empty"),
    path("office/data/<slug:kind>/write/", carrying.write, name="import-write"),
    path("customers/<int:pk>/card.vcf", carrying.card, name="customer-card"),
    path("customers/<int:pk>/data/", carrying.person, name="customer-data"),
    path("customers/<int:pk>/data/everything.zip", carrying.person_data, name="customer-data-zip"),
    path("customers/<int:pk>/data/erase/", carrying.erase, name="customer-erase"),
]
