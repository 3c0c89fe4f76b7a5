"""The service's contract: `kit` checks that a deployment keeps it, `compat` that a new document breaks no caller."""
