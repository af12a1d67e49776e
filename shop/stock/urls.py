"""Addresses of the price list and the shelf."""

from django.urls import path

from shop.stock.views import closing, counting, prices, reorder, shelf

urlpatterns = [
    path("prices/", prices.prices, name="prices"),
    path("prices/export.csv", prices.export, name="prices-export"),
    path("prices/new/", prices.price_new, name="price-new"),
    path("prices/<int:pk>/", prices.price_edit, name="price-edit"),
    path("stock/", shelf.shelf, name="shelf"),
    path("stock/export.csv", shelf.export, name="shelf-export"),
    path("stock/count/", counting.begin, name="count"),
    path("stock/count/<int:pk>/", counting.card, name="count-card"),
    path("stock/reorder/", reorder.reorder, name="reorder"),
    path("stock/reorder.csv", reorder.export, name="reorder-export"),
    path("stock/reorder/<int:supplier>/sent/", reorder.sent, name="reorder-sent"),
    path("stock/suppliers/", reorder.suppliers, name="suppliers"),
    path("stock/suppliers/export.csv", reorder.suppliers_csv, name="suppliers-export"),
    path("stock/suppliers/new/", reorder.supplier, name="supplier-new"),
    path("stock/suppliers/<int:pk>/", reorder.supplier, name="supplier"),
    path("stock/<int:pk>/", shelf.part, name="part"),
    path("stock/<int:pk>/export.csv", shelf.part_csv, name="part-export"),
    path("stock/<int:pk>/receive/", shelf.receive, name="part-receive"),
    path("stock/<int:pk>/send-back/", shelf.send_back, name="part-send-back"),
    path("stock/<int:pk>/count/", shelf.count, name="part-count"),
    path("stock/<int:pk>/send-on/", shelf.send_on, name="part-send-on"),
    path("stock/of-branch/<int:pk>/send-on/", closing.send_all_on, name="shelf-send-on"),
    path("stock/<int:pk>/keep/", shelf.keep, name="part-keep"),
    path("stock/<int:pk>/not-sent/", reorder.not_sent, name="part-not-sent"),
]
