"""Tasks and hours."""

from bedwright.engine.work.tasks import TASK_SOURCES, tasks_of

__all__ = ["TASK_SOURCES", "tasks_of"]
