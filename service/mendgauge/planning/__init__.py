"""How the work on a tyre is laid out: the scene, the steps it takes, their figures, times and consumables."""
