"""Addresses of the staff room."""

from django.urls import path

from shop.staff import views

urlpatterns = [
    path("sign-in/", views.SignIn.as_view(), name="sign-in"),
    path("sign-out/", views.SignOut.as_view(), name="sign-out"),
    path("password/", views.Password.as_view(), name="password"),
    path("office/workshop/", views.workshop, name="workshop"),
    path("office/staff/", views.staff, name="staff"),
    path("office/staff/new/", views.person_new, name="person-new"),
    path("office/staff/<int:pk>/", views.person_edit, name="person-edit"),
]
