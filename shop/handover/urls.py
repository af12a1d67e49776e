"""Addresses of the hand-over, of papers and of mail."""

from django.urls import path

from shop.handover.views import customer, handing, invoices, mail, months, papers, quotes, reminders, words

ORDER = "orders/<slug:number>/"

urlpatterns = [
    path(f"{ORDER}ready/", handing.ready, name="order-ready"),
    path(f"{ORDER}collect/", handing.collect, name="order-collect"),
    path(f"{ORDER}expect/", handing.expect, name="order-expect"),
    path(f"{ORDER}quote/mail/", quotes.quote, name="order-quote"),
    path(f"{ORDER}customer-page/renew/", quotes.renew, name="customer-link-renew"),
    path(f"{ORDER}customer-page/withdraw/", quotes.withdraw, name="customer-link-withdraw"),
    path("yours/<str:token>/", customer.page, name="customer-page"),
    path("yours/<str:token>/answer/", customer.answer, name="customer-answer"),
    path("yours/<str:token>/papers/<int:pk>/<str:name>", customer.paper, name="customer-paper"),
    path(f"{ORDER}receipt.pdf", papers.receipt, name="order-receipt"),
    path(f"{ORDER}invoice/issue/", invoices.issue, name="invoice-issue"),
    path("invoices/<int:pk>/paper.pdf", papers.invoice_pdf, name="invoice-pdf"),
    path("invoices/<int:pk>/invoice.xml", papers.invoice_xml, name="invoice-xml"),
    path("invoices/<int:pk>/credit/", invoices.credit, name="invoice-credit"),
    path("invoices/<int:pk>/mail/", invoices.mail, name="invoice-mail"),
    path("invoices/<int:pk>/remind/", invoices.remind, name="invoice-remind"),
    path("papers/<int:pk>/<str:name>", papers.paper, name="paper"),
    path("invoices/months/<int:year>/<int:month>/papers.zip", months.papers, name="month-papers"),
    path("invoices/months/<int:year>/<int:month>/papers/make/", months.make, name="month-make"),
    path("invoices/<int:pk>/remind/letter/", reminders.letter, name="reminder-letter"),
    path("invoices/<int:pk>/remind/letter/taken-back/", reminders.letter_taken_back, name="reminder-taken-back"),
    path("invoices/reminders/", reminders.reminders, name="reminders"),
    path("invoices/reminders/export.csv", reminders.export, name="reminders-export"),
    path("invoices/reminders/mail/", reminders.remind_ticked, name="reminders-mail"),
    path("customers/<int:pk>/statement/mail/", reminders.mail_statement, name="statement-mail"),
    path("mail/words/", words.all_words, name="mail-words"),
    path("mail/words/export.csv", words.export, name="mail-words-export"),
    path("mail/words/<slug:which>/", words.words, name="mail-words-of"),
    path("mail/words/<slug:which>/look/", words.preview, name="mail-words-look"),
    path("mail/words/<slug:which>/usual/", words.usual, name="mail-words-usual"),
    path("mail/words/<slug:which>/test/", words.test, name="mail-words-test"),
    path("mail/", mail.mails, name="mail"),
    path("mail/export.csv", mail.export, name="mail-export"),
    path("mail/silenced/", mail.silenced, name="mail-silenced"),
    path("mail/silenced/export.csv", mail.silenced_csv, name="silenced-export"),
    path("mail/silenced/add/", mail.silence, name="address-silence"),
    path("mail/silenced/<int:pk>/lift/", mail.speak_again, name="address-lift"),
    path("mail/<int:pk>/", mail.mail, name="mail-detail"),
    path("mail/<int:pk>/html/", mail.mail_html, name="mail-html"),
    path("mail/<int:pk>/again/", mail.again, name="mail-again"),
    path("mail/<int:pk>/withdraw/", mail.withdraw, name="mail-withdraw"),
]
