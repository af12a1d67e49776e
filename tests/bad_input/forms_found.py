"""Every form of a shop full of work, found by walking its pages, with what a browser would send for each."""

from dataclasses import dataclass, field
from urllib.parse import urldefrag, urljoin, urlsplit

from django.urls import Resolver404, resolve
from lxml import html

MOST_PAGES_OF_ONE_KIND = 5
MOST_FORMS_OF_ONE_KIND = 3
NEVER = {"sign-out"}  # it would end the walk


@dataclass(frozen=True)
class Form:
    """A form as it stands on a page: where it goes, and {field: values} as they would be sent untouched."""

    name: str
    method: str
    path: str
    data: dict = field(hash=False)

    @property
    def fields(self):
        return sorted(name for name in self.data if name != "csrfmiddlewaretoken")


def name_of(path):
    try:
        return resolve(urlsplit(path).path).url_name
    except Resolver404:
        return None


def walk(client, start=("/",)):
    """All kinds of forms that are met from `start` on, by links alone."""
    todo, seen, counts, forms = list(start), set(), {}, {}
    while todo:
        path = todo.pop(0)
        name = name_of(path)
        key = urlsplit(path).path
        if key in seen or name is None or name in NEVER or counts.get(name, 0) >= MOST_PAGES_OF_ONE_KIND:
            continue
        seen.add(key)
        counts[name] = counts.get(name, 0) + 1
        answer = client.get(path, follow=True)
        if answer.status_code != 200 or not answer["Content-Type"].startswith("text/html") or not answer.content:
            continue
        page = html.document_fromstring(answer.content.decode(), base_url=path)
        here = answer.request["PATH_INFO"]
        todo += [urljoin(here, urldefrag(link)[0]) for link in page.xpath("//a/@href") if not link.startswith("mailto")]
        keep(forms, Form(name_of(here), "GET", here, {one: [""] for one in ("q", "page", "next")}))
        for form in page.forms:
            keep(forms, read(form, here))
            for button in form.xpath(".//button[@formaction]"):
                keep(forms, read(form, here, action=button.get("formaction")))
    return forms


def keep(forms, form):
    if form is None or form.name in NEVER:
        return
    alike = forms.setdefault((form.name, form.method), [])
    if len(alike) < MOST_FORMS_OF_ONE_KIND and all(one.fields != form.fields for one in alike):
        alike.append(form)


def read(form, here, action=None):
    """A Form, or None when it leads nowhere that we know."""
    path = urljoin(here, action or form.get("action") or here)
    name = name_of(path)
    if name is None:
        return None
    data = {}
    for one, value in form.form_values():
        data.setdefault(one, []).append(value)
    for one in form.inputs.keys():  # noqa: SIM118 (not a dictionary)
        data.setdefault(one, [""])
    return Form(name, form.get("method", "get").upper(), urlsplit(path).path, data)
