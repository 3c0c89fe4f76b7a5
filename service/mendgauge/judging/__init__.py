"""A case judged by every rule: what it can come to, what is missing, which question settles most."""
