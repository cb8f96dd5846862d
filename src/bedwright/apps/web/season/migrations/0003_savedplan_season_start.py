import gzip
import json
from typing import Any

from django.db import migrations, models


def read_season_start(apps: Any, schema_editor: Any) -> None:
    """From the plans themselves, where they can be read."""
    saved_plan = apps.get_model("season", "SavedPlan")
    for saved in saved_plan.objects.exclude(packed=None).iterator():
        try:
            saved.season_start = json.loads(gzip.decompress(bytes(saved.packed)))["plan"]["book"][
                "season_start"
            ]
        except (KeyError, TypeError, ValueError):
            continue
        saved.save(update_fields=["season_start"])


class Migration(migrations.Migration):
    dependencies = [
        ("season", "0002_how_a_plan_comes_about"),
    ]

    operations = [
        migrations.AddField(
            model_name="savedplan",
            name="season_start",
            field=models.DateField(null=True),
        ),
        migrations.RunPython(read_season_start, migrations.RunPython.noop),
    ]
