"""Every room's addresses. Names are unique across rooms: no namespaces."""

from django.urls import include, path

urlpatterns = [
    path("", include("shop.staff.urls")),
]
