"""`python3 -m shop`: prepares what is not there yet, then runs web server and mail worker until told to stop."""

import argparse
import os
import signal
import time
from contextlib import contextmanager
from pathlib import Path

from shop.ground import children, data_folder, env_file, environment, lock, network
from shop.ground.places import ENV_FILE, PYTHON, ROOT, child_environment
from shop.ground.words import Trouble, complain, say, sentence_for

LOOK_EVERY_S = 0.3
ASKED_BY = (signal.SIGINT, signal.SIGTERM, signal.SIGHUP)


class Stopped(BaseException):
    """Somebody pressed Ctrl-C or asked us to end."""


def main(arguments=None):
    """Run the command; the exit code is 0 when it was stopped on purpose and 1 when it could not go on."""
    asked = parse(arguments)
    listen_to_signals()
    try:
        env_file.load(ENV_FILE)
        run(asked)
    except Stopped:
        say("Stopped.")
        return 0
    except (Trouble, env_file.EnvFileError) as trouble:
        complain(trouble)
    except OSError as error:
        complain(sentence_for(error))
    return 1


def parse(arguments):
    parser = argparse.ArgumentParser(prog="python3 -m shop", description="Set up and run the workshop.")
    parser.add_argument("--port", type=port, default=8000, help="port to listen at (8000)")
    parser.add_argument("--host", default="127.0.0.1", help="address to listen at; 0.0.0.0 for the whole local network")
    parser.add_argument("--data", type=Path, metavar="DIR", help="folder for all data (.data, or WORKSHOP_DATA)")
    parser.add_argument("--no-demo", action="store_true", help="begin with an empty workshop on the very first start")
    return parser.parse_args(arguments)


def port(text):
    if not text.isdecimal() or int(text) > 65535:
        raise argparse.ArgumentTypeError(f"{text} is not a port; use a number up to 65535.")
    return int(text)


def listen_to_signals():
    def stop(number, frame):
        quieten()
        raise Stopped

    for name in ASKED_BY:
        if signal.getsignal(name) != signal.SIG_IGN:
            signal.signal(name, stop)


def quieten():
    """While we stop our children, being asked once more changes nothing."""
    for name in ASKED_BY:
        signal.signal(name, signal.SIG_IGN)


@contextmanager
def undisturbed():
    """Whoever asks us to end within is heard at its end. Broken off in the middle, a look at a child would keep that
    child's lock, and waiting for the child would never end."""
    before = signal.pthread_sigmask(signal.SIG_BLOCK, ASKED_BY)
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def run(asked):
    folder = chosen_folder(asked.data)
    data_folder.open_folder(folder)
    held = lock.DataFolderLock(folder)
    try:
        listener = network.bind(asked.host, asked.port)
        environment.see_to(ROOT / "requirements.txt")
        os.umask(0o077)  # from here on, what we and our children write holds people's data
        settings = settings_for(folder, asked.host, listener.getsockname()[1])
        data = data_folder.DataFolder(folder, settings)
        said = data.prepare(with_demo=not asked.no_demo)
        network.listen(listener)
        run_children(folder, settings, listener, held, said or data.demo_sign_ins())
    finally:
        held.release()


def chosen_folder(asked):
    return Path(asked or os.environ.get("WORKSHOP_DATA") or ROOT / ".data").expanduser().resolve()


def settings_for(folder, host, port):
    """The variables that follow from the command line; what the shop has set itself stands."""
    reachable = network.reachable_at(host)
    hosts = ",".join([*filter(None, [os.environ.get("WORKSHOP_HOSTS")]), *reachable])
    public = os.environ.get("WORKSHOP_PUBLIC_ADDRESS") or network.url(reachable[0], port)
    return {"WORKSHOP_DATA": str(folder), "WORKSHOP_HOSTS": hosts, "WORKSHOP_PUBLIC_ADDRESS": public}


def run_children(folder, settings, listener, held, sign_ins):
    variables = child_environment(**settings)
    web_command, mail_command = [str(PYTHON), "-m", "shop.serve"], [str(PYTHON), "manage.py", "send_mail", "--loop"]
    web = children.Child("The web server", web_command, folder / "logs" / "web.log", variables)
    mail = children.Child("The mail worker", mail_command, folder / "logs" / "mail.log", variables)
    address = settings["WORKSHOP_PUBLIC_ADDRESS"]
    listening = listener.getsockname()[:2]
    try:
        children.start_web(web, listener)
        steady_mail = children.Steady(mail)
        held.say_where(address)
        announce(address, listening, sign_ins)
        watch(web, steady_mail)
    finally:
        quieten()
        for child in (mail, web):
            child.ask_to_stop()
        for child in (mail, web):
            child.stop()


def announce(address, listening, sign_ins):
    host, port = listening
    if sign_ins:
        say(f"\n{sign_ins.strip()}")
    say(f"\nThe workshop is open at {address}")
    for other in network.reachable_at(host):
        if network.url(other, port) != address:
            say(f"{' ' * 20}and at {network.url(other, port)}")
    say("Ctrl-C stops it.")


def watch(web, mail):
    """Look after both until the web server ends or we are stopped."""
    while True:
        with undisturbed():
            if web.has_ended():
                break
            mail.look_after()
        time.sleep(LOOK_EVERY_S)
    raise Trouble(f"The web server stopped: {web.last_words()}. {web.log} has the whole story.")
