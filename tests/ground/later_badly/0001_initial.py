"""The room's own first migration."""

import importlib

Migration = importlib.import_module("shop.stock.migrations.0001_initial").Migration
