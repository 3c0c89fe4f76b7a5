r"""The contract kit: does a deployment keep the contract that this client was made for?

    python -m mendgauge_client.contract.kit https://bench.example

asks a running service for everything the contract promises and reports what it found, check by check. The same checks
run under pytest, where it is installed:

    pytest --pyargs mendgauge_client.contract.kit -p mendgauge_client.contract.kit.plugin \
        --mendgauge-url https://bench.example
"""
