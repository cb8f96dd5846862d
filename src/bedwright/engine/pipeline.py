"""The one function that runs the stages of the engine in order."""
