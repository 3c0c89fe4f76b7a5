"""The contract kit: does a deployment keep the contract that this client was made for?

    python -m mendgauge_client.contract https://bench.example

asks a running service for everything the contract promises and tells what it found, check by check. The same checks run
under pytest, where it is installed: `pytest --pyargs mendgauge_client.contract --base-url https://bench.example`.

`python -m mendgauge_client.contract.released` compares two OpenAPI documents, by the rules that the kit goes by too.
"""
