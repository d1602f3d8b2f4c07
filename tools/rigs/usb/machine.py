# SPDX-License-Identifier: GPL-3.0-or-later
"""A small Linux in QEMU: Debian's kernel, busybox, the program, and USB serial adapters to pull out.

The kernel's package is unpacked into build-rigs, not installed. The guest is a shell on the second serial
port; the host types commands and reads what they print.
"""
import hashlib
import lzma
import os
import pathlib
import re
import select
import shutil
import socket
import struct
import subprocess
import time

import rig

KERNEL = rig.BUILD / "kernel"
# In the order in which they are loaded.
MODULES = ("common/usb-common", "core/usbcore", "host/xhci-hcd", "host/xhci-pci",
           "serial/usbserial", "serial/ftdi_sio")
INIT = """#!/bin/busybox sh
/bin/busybox --install -s /bin
export PATH=/bin HOME=/tmp LC_ALL=C.UTF-8
mount -t proc proc /proc
mount -t sysfs sys /sys
mount -t devtmpfs dev /dev
mount -t tmpfs tmp /tmp
for module in {modules}; do insmod /modules/$module.ko; done
stty -F /dev/ttyS1 raw -echo
exec >/dev/ttyS1 2>&1
printf "<up>"
# The emulated port loses a few bytes now and then: a line is taken when its sum is right.
while read -r number sum line; do
    # An empty line ends what was left of a torn one; a line that was taken may come again.
    if [ -z "$number" ] || [ "$number" = "$last" ]; then continue; fi
    if [ "$(printf %s "$line" | md5sum)" = "$sum  -" ]; then
        last=$number
        printf '<go %s>' "$number"
        eval "{{ $line ; }}" </dev/null
        printf '<end %s %s>' "$number" $?
    else
        printf '<again>'
    fi
done </dev/ttyS1
"""


class Unavailable(Exception):
    """The machine cannot be made here; the text says why."""


def unpack_xz_payload(image):
    """vmlinux from a bzImage: the boot protocol's payload_offset and payload_length
    (Documentation/arch/x86/boot.rst in the kernel's source)."""
    sectors = image[0x1F1] or 4
    offset, length = struct.unpack_from("<II", image, 0x248)
    start = (sectors + 1) * 512 + offset
    payload = image[start:start + length]
    if payload[:6] != b"\xfd7zXZ\0":
        raise Unavailable("the kernel is not compressed with xz")
    return lzma.LZMADecompressor().decompress(payload)


def newest_kernel():
    """The package that Debian's linux-image-amd64 stands for now."""
    # Not the cloud kernel, which has no USB.
    text = rig.run("apt-cache", "depends", "linux-image-amd64")
    found = re.search(r"Depends: (linux-image-\S+)", text)
    if not found:
        raise Unavailable("apt knows no linux-image-amd64")
    return found.group(1)


def fetch_kernel():
    """Kernel and modules in build-rigs/kernel; downloads 70 MB the first time."""
    if (KERNEL / "complete").exists():
        return
    shutil.rmtree(KERNEL, ignore_errors=True)
    KERNEL.mkdir(parents=True)
    try:
        rig.run("apt-get", "download", "-q", newest_kernel(), cwd=KERNEL)
    except RuntimeError:
        # Package lists that were never fetched or are out of date are the usual reason.
        rig.run("apt-get", "update", "-q")
        rig.run("apt-get", "download", "-q", newest_kernel(), cwd=KERNEL)
    package = next(KERNEL.glob("*.deb"))
    wanted = [f"*/{module.partition('/')[2]}.ko" for module in MODULES]
    with subprocess.Popen(["dpkg-deb", "--fsys-tarfile", package], stdout=subprocess.PIPE) as tar:
        rig.run("tar", "-xf", "-", "-C", KERNEL, "--wildcards", "./boot/vmlinuz-*", *wanted,
                stdin=tar.stdout)
    image = next(KERNEL.glob("boot/vmlinuz-*")).read_bytes()
    (KERNEL / "vmlinux").write_bytes(unpack_xz_payload(image))
    package.unlink()
    (KERNEL / "complete").touch()


def libraries(program):
    """The shared libraries that a program needs, with their loader."""
    return re.findall(r"(/\S+) \(0x", rig.run("ldd", program))


def build_root(folder, program, files):
    """The guest's file system: busybox, modules, the program with its libraries, and files."""
    root = folder / "root"
    for name in ("bin", "dev", "proc", "sys", "tmp", "modules"):
        (root / name).mkdir(parents=True, mode=0o755)
    root.chmod(0o755)
    shutil.copy("/bin/busybox", root / "bin")
    shutil.copy(program, root / "bin" / "trueup")
    for library in libraries(program):
        place = root / library.lstrip("/")
        place.parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(library, place)
    for module in MODULES:
        name = module.partition("/")[2] + ".ko"
        shutil.copy(next(KERNEL.glob(f"lib/modules/*/kernel/drivers/usb/{module}.ko")),
                    root / "modules" / name)
    for name, text in files.items():
        (root / name).write_text(text, encoding="utf-8")
    init = root / "init"
    init.write_text(INIT.format(modules=" ".join(m.partition("/")[2] for m in MODULES)))
    init.chmod(0o755)
    names = subprocess.run(["find", "."], cwd=root, stdout=subprocess.PIPE, check=True).stdout
    packed = subprocess.run(["cpio", "-o", "-H", "newc", "-R", "0:0", "--quiet"], cwd=root,
                            input=names, stdout=subprocess.PIPE, check=True).stdout
    (folder / "initrd").write_bytes(packed)
    shutil.rmtree(root)


class Machine:
    """A running guest. Adapter 1 is plugged by plug(); adapter 2 sits on a terminal if one is given."""

    def __init__(self, folder, program, files, terminal=None):
        self.folder = pathlib.Path(folder)
        build_root(self.folder, program, files)
        words = ["qemu-system-x86_64", "-M", "pc", "-accel", "tcg", "-cpu", "qemu64", "-m", "256",
                 "-display", "none", "-nodefaults", "-no-reboot",
                 "-kernel", str(KERNEL / "vmlinux"), "-initrd", "initrd",
                 "-append", "console=ttyS0 quiet panic=-1 rdinit=/init",
                 "-serial", "file:console.log",
                 "-chardev", "socket,id=shell,path=shell,server=on,wait=off",
                 "-serial", "chardev:shell", "-device", "qemu-xhci",
                 "-chardev", "socket,id=adapter,path=adapter,server=on,wait=off",
                 "-device", "usb-serial,chardev=adapter,serial=RIG0001"]
        if terminal:
            words += ["-chardev", f"serial,id=board,path={terminal}",
                      "-device", "usb-serial,chardev=board,serial=RIG0002"]
        with (self.folder / "qemu.log").open("wb") as log:
            self.process = subprocess.Popen(words, cwd=self.folder, stdin=subprocess.DEVNULL,
                                            stdout=log, stderr=log)
        self.adapter = None
        self.shell = self.connect("shell")
        self.text = ""
        self.number = 0
        self.read_until("<up>", 60)

    def connect(self, name, seconds=20):
        """The other end of one of QEMU's sockets."""
        # The path relative to the folder: a socket's name is short.
        end = time.monotonic() + seconds
        while True:
            found = socket.socket(socket.AF_UNIX)
            try:
                here = os.open(self.folder, os.O_PATH)
                found.connect(f"/proc/self/fd/{here}/{name}")
                return found
            except OSError:
                found.close()
                if time.monotonic() > end or self.process.poll() is not None:
                    raise Unavailable("QEMU did not start: " + self.notes()) from None
                time.sleep(0.05)
            finally:
                os.close(here)

    def notes(self):
        """What QEMU and the kernel had to say."""
        return "".join((self.folder / name).read_text(errors="replace")[-800:]
                       for name in ("qemu.log", "console.log") if (self.folder / name).exists())

    def read_until(self, mark, seconds):
        """What the guest prints up to mark."""
        end = time.monotonic() + seconds
        while mark not in self.text:
            if not self.more(end - time.monotonic()):
                raise AssertionError(f"no {mark!r} within {seconds} s: {self.text[-500:]!r} "
                                     + self.notes())
        before, _, self.text = self.text.partition(mark)
        return before

    def more(self, seconds):
        """Takes what the guest prints; false if nothing comes within the time."""
        if not select.select([self.shell], [], [], max(seconds, 0))[0]:
            return False
        got = self.shell.recv(65536)
        if not got:
            raise AssertionError("the guest ended: " + self.notes())
        self.text += got.decode("utf-8", "replace")
        return True

    def heard(self, marks, seconds):
        """Which of the marks is printed first; None: none in time. "<again>" is taken away."""
        end = time.monotonic() + seconds
        while True:
            places = {self.text.find(mark): mark for mark in marks if mark in self.text}
            if places:
                mark = places[min(places)]
                if mark == "<again>":
                    self.text = self.text.replace(mark, "", 1)
                return mark
            if not self.more(end - time.monotonic()):
                return None

    def do(self, command, seconds=30):
        """(what it prints, exit status)"""
        self.number += 1
        line = f"{self.number} {hashlib.md5(command.encode()).hexdigest()} {command}\n".encode()
        self.shell.sendall(line)
        for _ in range(20):
            if self.heard(("<go", "<again>"), 2) == "<go":
                break
            self.shell.sendall(b"\n" + line)
        else:
            raise AssertionError(f"the guest does not take {command!r}: {self.text!r}")
        self.read_until(f"<go {self.number}>", 2)
        mark = f"<end {self.number} "
        printed = self.read_until(mark, seconds)
        return printed, int(self.read_until(">", seconds))

    def wait_for(self, command, seconds=20):
        """Repeats a command until it succeeds."""
        end = time.monotonic() + seconds
        while True:
            printed, status = self.do(command)
            if status == 0:
                return printed
            if time.monotonic() > end:
                raise AssertionError(f"{command!r} never succeeded: {printed}")
            time.sleep(0.1)

    def plug(self):
        self.adapter = self.connect("adapter")

    def unplug(self):
        self.adapter.close()
        self.adapter = None

    def send(self, data):
        self.adapter.sendall(data)

    def close(self):
        if self.adapter:
            self.adapter.close()
        self.shell.close()
        self.process.kill()
        self.process.wait()
