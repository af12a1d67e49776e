"""`python3 -m tests faults --rounds 200`."""


def pytest_addoption(parser):
    parser.addoption("--rounds", type=int, default=200, help="how often the shop is killed")
