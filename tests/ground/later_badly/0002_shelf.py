"""A later version that adds a column and changes rows, and then fails."""

import os
import signal

from django.db import migrations, models


def spoil(apps, editor):
    items = apps.get_model("stock", "PriceItem").objects.using(editor.connection.alias)
    items.filter(name="Nut").update(name="spoilt")
    if os.environ.get("KILLED_HALFWAY"):
        os.kill(os.getpid(), signal.SIGKILL)
    raise ValueError("a price without a currency")


class Migration(migrations.Migration):
    dependencies = [("stock", "0001_initial")]
    operations = [
        migrations.AddField("priceitem", "shelf", models.CharField(default="", max_length=300)),
        migrations.RunPython(spoil),
    ]
