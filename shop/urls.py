"""Every room's addresses. Names are unique across rooms: no namespaces."""

from django.urls import include, path

urlpatterns = [
    path("", include("shop.staff.urls")),
    path("", include("shop.people.urls")),
    path("", include("shop.instruments.urls")),
    path("", include("shop.stock.urls")),
    path("", include("shop.orders.urls")),
    path("", include("shop.worksheets.urls")),
    path("", include("shop.billing.urls")),
    path("", include("shop.handover.urls")),
    path("", include("shop.figures.urls")),
]

handler500 = "shop.lib.logs.failed"
