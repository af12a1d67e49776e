"""What the owner's figures keep, so that nobody waits for ten years to be added up. All of it can be made anew."""

from django.db import models

from shop.lib.carry import REMADE


class Question(models.TextChoices):
    """What is asked of each month: a function of `sums`."""

    TURNAROUND = "turnaround"
    BILLED = "billed"
    COST = "cost"
    ESTIMATED = "estimated"
    SPENT = "spent"
    RETURNS = "returns"
    DRIFT = "drift"


class KeptSum(models.Model):
    """One question's answer for one month, as `sums` gave it."""

    question = models.CharField(max_length=10, choices=Question.choices)
    month = models.DateField()  # its first day
    of_branch = models.PositiveBigIntegerField(default=0)  # 0: of all together
    zone = models.CharField(max_length=60)  # where its months begin and end
    rows = models.JSONField()

    class Meta:
        db_table = f"{REMADE}figures_sum"
        constraints = [models.UniqueConstraint(fields=["of_branch", "month", "question"], name="one_sum_a_month")]

    def __str__(self):
        return f"{self.question} {self.month:%Y-%m}"


class Touched(models.Model):
    """A note of what changed since, written by the database itself: `watching` says which changes leave which."""

    question = models.CharField(max_length=10, choices=Question.choices)
    thing = models.CharField(max_length=10, blank=True)
    key = models.BigIntegerField(null=True)  # of the thing
    day = models.DateField(null=True)  # of UTC

    class Meta:
        db_table = f"{REMADE}figures_touched"
        verbose_name_plural = "touched"

    def __str__(self):
        return f"{self.question} {self.thing} {self.day}"
