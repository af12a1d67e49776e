"""Addresses of invoices and of an order's money."""

from django.urls import path

from shop.billing import views

urlpatterns = [
    path("invoices/", views.invoices, name="invoices"),
    path("invoices/table.csv", views.invoices_csv, name="invoices-csv"),
    path("invoices/<int:pk>/", views.invoice, name="invoice"),
    path("orders/<slug:number>/money/", views.money, name="order-money"),
    path("orders/<slug:number>/money/draft.pdf", views.draft, name="invoice-draft"),
    path("orders/<slug:number>/money/discount/", views.discount, name="discount"),
    path("orders/<slug:number>/money/receive/", views.receive, name="money-receive"),
    path("orders/<slug:number>/money/give-back/", views.give_back, name="money-back"),
    path("payments/<int:pk>/undo/", views.undo_payment, name="payment-undo"),
]
