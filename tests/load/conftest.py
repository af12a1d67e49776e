"""`python3 -m tests load`, and how large and how long."""


def pytest_addoption(parser):
    parser.addoption("--orders", type=int, default=500_000)
    parser.addoption("--customers", type=int, default=200_000)
    parser.addoption("--shop", default="", help="a data folder that such a workshop was built in before")
    parser.addoption("--minutes", type=float, default=30)
    parser.addoption("--shops", type=float, default=20, help="as busy as so many shops of ten people")
    parser.addoption("--machines", type=int, default=2, help="that answer for the workshop, where it is on a server")
