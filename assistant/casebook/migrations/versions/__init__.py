"""One step a module, each naming the one before it."""
