# SPDX-License-Identifier: GPL-3.0-or-later
"""Serial ports of USB adapters, played by pseudo-terminals through port_shim.so (see port_shim.c).

    with Bench() as bench:
        line = bench.plug("ttyUSB0", serial="TP-0042")
        subprocess.run([program, "ports"], env=bench.environment(shim))
        os.write(line, b"a line\\n")
        bench.pull("ttyUSB0")

The program must end, or the port be closed, before the bench goes. Keep `line` open until the reader
has all, or the last lines are lost.
"""
import os
import pathlib
import shutil
import tempfile
import termios
import tty

DEVICES = "devices/pci0000:00/usb1"


class Bench:
    """A folder that the shim shows to the program."""

    def __enter__(self):
        self.root = pathlib.Path(tempfile.mkdtemp(prefix="fake-port-"))
        self.root.chmod(0o755)
        (self.root / "sys/class/tty").mkdir(parents=True)
        (self.root / "dev").mkdir()
        self.lines = {}
        return self

    def __exit__(self, *_):
        for name in list(self.lines):
            self.pull(name)
        shutil.rmtree(self.root)

    def environment(self, shim, more=None):
        """The environment for the program. Not for one that was built with the address sanitizer,
        whose own realpath passes the shim by."""
        before = os.environ.get("LD_PRELOAD")
        return {**os.environ, "PORT_SHIM_ROOT": str(self.root),
                "LD_PRELOAD": f"{before}:{shim}" if before else str(shim), **(more or {})}

    def plug(self, name, vendor=0x1d50, product=1, serial=None, words=None, socket="1-2"):
        """Plugs an adapter in; the other end of its line."""
        line, other = os.openpty()
        # What is written before the program opens the port would be echoed else. The program
        # refuses a port that another process has open, so this end is closed at once.
        tty.setraw(other, termios.TCSANOW)
        terminal = os.ttyname(other)
        os.close(other)
        (self.root / "dev" / name).symlink_to(terminal)
        way = f"{DEVICES}/{socket}/{socket}:1.0/{name}/tty/{name}"
        (self.root / "sys" / way).mkdir(parents=True)
        (self.root / "sys" / way / "device").symlink_to(f"../../../{name}")
        (self.root / "sys/class/tty" / name).symlink_to(f"../../{way}")
        said = {"busnum": "1", "devnum": "7", "idVendor": f"{vendor:04x}",
                "idProduct": f"{product:04x}", "product": words, "serial": serial}
        for attribute, text in said.items():
            if text is not None:
                (self.root / "sys" / DEVICES / socket / attribute).write_text(text + "\n")
        self.lines[name] = (line, socket)
        return line

    def terminal(self, name):
        """The pseudo-terminal itself."""
        return os.readlink(self.root / "dev" / name)

    def pull(self, name):
        """Pulls the plug: the line is dead and the system forgets the port."""
        line, socket = self.lines.pop(name)
        os.close(line)
        (self.root / "sys/class/tty" / name).unlink()
        (self.root / "dev" / name).unlink()
        shutil.rmtree(self.root / "sys" / DEVICES / socket)
