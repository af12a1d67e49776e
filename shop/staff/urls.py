"""Addresses of the staff room."""

from django.urls import path

from shop.staff.views import audit, entry, health, kept, office, setting_up, you

urlpatterns = [
    path("sign-in/", entry.SignIn.as_view(), name="sign-in"),
    path("sign-in/code/", entry.sign_in_code, name="sign-in-code"),
    path("sign-out/", entry.SignOut.as_view(), name="sign-out"),
    path("lock/", entry.lock, name="lock"),
    path("re-enter/", entry.re_enter, name="re-enter"),
    path("forgotten/", entry.forgotten, name="forgotten"),
    path("new-password/<str:uidb64>/<str:token>/", entry.NewPassword.as_view(), name="new-password"),
    path("you/", you.you, name="you"),
    path("password/", you.Password.as_view(), name="password"),
    path("you/pin/", you.pin, name="pin"),
    path("you/second-factor/", you.second_factor, name="second-factor"),
    path("you/second-factor/codes/", you.codes_anew, name="codes-anew"),
    path("you/second-factor/drop/", you.codes_drop, name="codes-drop"),
    path("you/devices/<slug:mark>/out/", you.device_out, name="device-out"),
    path("you/devices/out/", you.others_out, name="others-out"),
    path("office/workshop/", office.workshop, name="workshop"),
    path("office/workshop/logo/", setting_up.logo, name="workshop-logo"),
    path("office/workshop/logo/drop/", setting_up.logo_drop, name="workshop-logo-drop"),
    path("office/workshop/logo.jpg", setting_up.logo_picture, name="workshop-logo-picture"),
    path("set-up/", setting_up.resume, name="set-up"),
    path("set-up/end/", setting_up.end, name="set-up-end"),
    path("set-up/<slug:step>/", setting_up.step, name="set-up-step"),
    path("office/staff/", office.staff, name="staff"),
    path("office/staff/new/", office.person_new, name="person-new"),
    path("office/staff/rules/", audit.rules, name="rules"),
    path("office/staff/<int:pk>/", office.person_edit, name="person-edit"),
    path("office/staff/<int:pk>/out/", office.person_out, name="person-out"),
    path("office/staff/<int:pk>/codes/drop/", office.person_codes_drop, name="person-codes-drop"),
    path("views/keep/", kept.keep, name="kept-view-keep"),
    path("views/<int:pk>/", kept.view, name="kept-view"),
    path("views/<int:pk>/remove/", kept.drop, name="kept-view-drop"),
    path("health/", health.health_check, name="health-check"),
    path("office/health/", health.health_page, name="health"),
    path("office/record/", audit.audit, name="audit"),
    path("office/record/export.csv", audit.audit_csv, name="audit-export"),
]
