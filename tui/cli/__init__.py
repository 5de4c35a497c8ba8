"""The commands: one module each, thin. A command is imported only when it is called."""
