"""Addresses of the owner's figures."""

from django.urls import path

from shop.figures import views
from shop.figures.carrying import views as carrying
from shop.figures.merging import views as merging

urlpatterns = [
    path("figures/", views.page, name="figures"),
    path("figures/<slug:key>.csv", views.table, name="figures-csv"),
    path("office/data/", carrying.data, name="data"),
    path("office/data/everything.zip", carrying.everything, name="data-everything"),
    path("office/data/customers.vcf", carrying.all_cards, name="data-cards"),
    path("office/data/<slug:kind>/", carrying.read_in, name="import"),
    path("office/data/<slug:kind>/empty.csv", carrying.empty_table, name="import-empty"),
    path("office/data/<slug:kind>/write/", carrying.write, name="import-write"),
    path("office/data/<slug:kind>/run/", carrying.run, name="import-run"),
    path("office/data/<slug:kind>/stop/", carrying.run_stop, name="import-stop"),
    path("customers/<int:pk>/card.vcf", carrying.card, name="customer-card"),
    path("customers/<int:pk>/data/", carrying.person, name="customer-data"),
    path("customers/<int:pk>/data/everything.zip", carrying.person_data, name="customer-data-zip"),
    path("customers/<int:pk>/data/erase/", carrying.erase, name="customer-erase"),
    path("customers/<int:pk>/merge/", merging.customer_find, name="customer-merge-find"),
    path("customers/<int:pk>/merge/<int:other>/", merging.customer_merge, name="customer-merge"),
    path("customers/merges/<int:pk>/undo/", merging.customer_apart, name="customer-unmerge"),
    path("instruments/<int:pk>/merge/", merging.instrument_find, name="instrument-merge-find"),
    path("instruments/<int:pk>/merge/<int:other>/", merging.instrument_merge, name="instrument-merge"),
    path("instruments/merges/<int:pk>/undo/", merging.instrument_apart, name="instrument-unmerge"),
]
