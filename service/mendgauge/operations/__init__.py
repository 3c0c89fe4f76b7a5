"""One package an operation of the API: `__init__` is its public function, `answer` its Structs, the rest its parts."""
