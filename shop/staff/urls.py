"""Addresses of the staff room."""

urlpatterns = []
