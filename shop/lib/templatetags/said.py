"""How numbers, money and times are said on pages and papers. Built in: no template needs to load it."""

from django import template

register = template.Library()
