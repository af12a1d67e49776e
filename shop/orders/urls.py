"""Addresses of the counter, the orders and the office."""

from django.urls import path

from shop.orders.views import counter, lines, lists, order, parts, photos, tags

ORDER = "orders/<slug:number>/"

urlpatterns = [
    path("", lists.home, name="home"),
    path("find/", lists.find, name="find"),
    path("office/", lists.office_page, name="office"),
    path("counter/", counter.counter, name="counter"),
    path("counter/found/", counter.found, name="counter-found"),
    path("counter/alike/", counter.alike, name="alike"),
    path("counter/reckon/", counter.reckon, name="reckon"),
    path("counter/book-in/", counter.book_in, name="book-in"),
    path("counter/booked/<slug:number>/", counter.booked_in, name="booked-in"),
    path("counter/photos/", photos.drafts, name="draft-photos"),
    path("counter/photos/keep/", photos.keep_draft, name="draft-photo-keep"),
    path("counter/photos/<int:pk>/drop/", photos.drop_draft, name="draft-photo-drop"),
    path("photos/<int:pk>/", photos.show, name="photo"),
    path("photos/<int:pk>/remove/", photos.remove, name="photo-remove"),
    path("t/<slug:number>/", tags.scanned, name="tag"),
    path("orders/", lists.orders, name="orders"),
    path("orders/export.csv", lists.export, name="orders-export"),
    path(ORDER, order.order, name="order"),
    path(f"{ORDER}tag.pdf", tags.tag_pdf, name="order-tag"),
    path(f"{ORDER}signature.png", photos.signature, name="order-signature"),
    path(f"{ORDER}details/", order.details, name="order-details"),
    path(f"{ORDER}move/<slug:to>/", order.move, name="order-move"),
    path(f"{ORDER}promise/", order.promise, name="order-promise"),
    path(f"{ORDER}rack/", order.rack, name="order-rack"),
    path(f"{ORDER}note/", order.note, name="order-note"),
    path(f"{ORDER}photos/", photos.add, name="order-photos"),
    path(f"{ORDER}marks/", order.add_mark, name="mark-add"),
    path(f"{ORDER}marks/<int:pk>/remove/", order.remove_mark, name="mark-remove"),
    path(f"{ORDER}lines/pick/", lines.pick, name="line-pick"),
    path(f"{ORDER}lines/add/", lines.add, name="line-add"),
    path(f"{ORDER}lines/agree/", lines.answer, {"answer": "agree"}, name="lines-agree"),
    path(f"{ORDER}lines/decline/", lines.answer, {"answer": "decline"}, name="lines-decline"),
    path(f"{ORDER}lines/<int:pk>/", lines.change, name="line-change"),
    path(f"{ORDER}lines/<int:pk>/remove/", lines.remove, name="line-remove"),
    path(f"{ORDER}lines/<int:pk>/ask/", lines.ask_again, name="line-ask"),
    path(f"{ORDER}lines/<int:pk>/take/", parts.take, name="line-take"),
    path(f"{ORDER}lines/<int:pk>/put-back/", parts.put_back, name="line-put-back"),
    path(f"{ORDER}parts/use/", parts.use, name="part-use"),
]
