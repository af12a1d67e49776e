"""What a later version might add: a column, filled from what is there."""

from django.db import migrations, models
from django.db.models.functions import Concat


def fill(apps, editor):
    items = apps.get_model("stock", "PriceItem").objects.using(editor.connection.alias)
    items.update(shelf=Concat(models.Value("shelf of "), "name"))


class Migration(migrations.Migration):
    dependencies = [("stock", "0001_initial")]
    operations = [
        migrations.AddField("priceitem", "shelf", models.CharField(default="", max_length=300)),
        migrations.RunPython(fill),
    ]
