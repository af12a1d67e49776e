"""Addresses of invoices and of an order's money."""

from django.urls import path

from shop.billing import month_views, views

urlpatterns = [
    path("invoices/", views.invoices, name="invoices"),
    path("invoices/table.csv", views.invoices_csv, name="invoices-csv"),
    path("invoices/<int:pk>/", views.invoice, name="invoice"),
    path("orders/<slug:number>/money/", views.money, name="order-money"),
    path("orders/<slug:number>/money/draft.pdf", views.draft, name="invoice-draft"),
    path("orders/<slug:number>/money/discount/", views.discount, name="discount"),
    path("orders/<slug:number>/money/tax/", views.treatment, name="tax-treatment"),
    path("orders/<slug:number>/money/receive/", views.receive, name="money-receive"),
    path("orders/<slug:number>/money/give-back/", views.give_back, name="money-back"),
    path("payments/<int:pk>/undo/", views.undo_payment, name="payment-undo"),
    path("invoices/months/", month_views.month_now, name="month-now"),
    path("invoices/months/<int:year>/<int:month>/", month_views.month, name="month"),
    path("invoices/months/<int:year>/<int:month>/journal.csv", month_views.month_csv, name="month-csv"),
    path("invoices/months/<int:year>/<int:month>/journal.pdf", month_views.month_pdf, name="month-pdf"),
    path("customers/<int:pk>/statement.pdf", month_views.statement, name="statement"),
]
