"""What a tyre may do after its repair, one module an idea: speed, load, position, caveats, follow-ups, questions."""
