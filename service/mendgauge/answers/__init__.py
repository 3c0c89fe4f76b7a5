"""What the answers of several operations share: their head, findings, cautions, figures, near limits."""
