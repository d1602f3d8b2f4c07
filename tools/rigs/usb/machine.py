# SPDX-License-Identifier: GPL-3.0-or-later
"""A small Linux in QEMU: Debian's kernel, busybox, the program, and USB serial adapters to pull out.

The kernel's package is unpacked into build-rigs, not installed. The guest is a shell on a virtio port; the
host sends commands and reads what they print. Nothing here depends on how fast that goes: what has to
happen first is waited for.
"""
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
MODULES = ("usb/common/usb-common", "usb/core/usbcore", "usb/host/xhci-hcd", "usb/host/xhci-pci",
           "usb/serial/usbserial", "usb/serial/ftdi_sio", "virtio/virtio_ring", "virtio/virtio",
           "virtio/virtio_pci_modern_dev", "virtio/virtio_pci_legacy_dev", "virtio/virtio_pci",
           "char/virtio_console")
# The longest that anything is waited for. Idle, nothing takes 5 s.
LIMIT_S = 150
# Not a serial port for the commands: the emulated one loses bytes, and on a busy machine stops for good.
INIT = """#!/bin/busybox sh
/bin/busybox --install -s /bin
export PATH=/bin HOME=/tmp LC_ALL=C.UTF-8
mount -t proc proc /proc
mount -t sysfs sys /sys
mount -t devtmpfs dev /dev
mount -t tmpfs tmp /tmp
for module in {modules}; do insmod /modules/$module.ko; done
obey()
{{
    while :; do
        # It reads as ended while the host is not connected.
        if ! read -r number line; then usleep 10000; continue; fi
        eval "{{ $line ; }}" </dev/null
        printf '<end %s %s>' "$number" $?
    done
}}
# The name comes before what can be opened, and an exec that fails ends its shell.
until (exec <>/dev/vport0p1 >&0 2>&1 && obey) 2>/dev/null; do usleep 10000; done
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
    complete = KERNEL / "complete"
    if complete.exists() and complete.read_text() == "\n".join(MODULES):
        return
    shutil.rmtree(KERNEL, ignore_errors=True)
    KERNEL.mkdir(parents=True)
    download = ("apt-get", "download", "-q", "-o", "Acquire::Retries=3")
    try:
        rig.run(*download, newest_kernel(), cwd=KERNEL)
    except (RuntimeError, Unavailable):
        # Package lists that were never fetched or are out of date are the usual reason.
        rig.run(*([] if os.geteuid() == 0 else ["sudo", "-n", "--"]), "apt-get", "update", "-q")
        rig.run(*download, newest_kernel(), cwd=KERNEL)
    package = next(KERNEL.glob("*.deb"))
    wanted = [f"*/drivers/{module}.ko" for module in MODULES]
    with subprocess.Popen(["dpkg-deb", "--fsys-tarfile", package], stdout=subprocess.PIPE) as tar:
        rig.run("tar", "-xf", "-", "-C", KERNEL, "--wildcards", "./boot/vmlinuz-*", *wanted,
                stdin=tar.stdout)
    image = next(KERNEL.glob("boot/vmlinuz-*")).read_bytes()
    (KERNEL / "vmlinux").write_bytes(unpack_xz_payload(image))
    package.unlink()
    complete.write_text("\n".join(MODULES))


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
        shutil.copy(next(KERNEL.glob(f"lib/modules/*/kernel/drivers/{module}.ko")), root / "modules")
    for name, text in files.items():
        (root / name).write_text(text, encoding="utf-8")
    init = root / "init"
    init.write_text(INIT.format(modules=" ".join(m.rpartition("/")[2] for m in MODULES)))
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
                 "-append", "console=ttyS0 panic=-1 no_timer_check rdinit=/init",
                 "-serial", "file:console.log",
                 "-chardev", "socket,id=shell,path=shell,server=on,wait=off",
                 "-device", "virtio-serial-pci", "-device", "virtserialport,chardev=shell",
                 "-device", "qemu-xhci",
                 "-chardev", "socket,id=adapter,path=adapter,server=on,wait=off",
                 "-device", "usb-serial,chardev=adapter,serial=RIG0001"]
        if terminal:
            words += ["-chardev", f"serial,id=board,path={terminal}",
                      "-device", "usb-serial,chardev=board,serial=RIG0002"]
        with (self.folder / "qemu.log").open("wb") as log:
            self.process = subprocess.Popen(words, cwd=self.folder, stdin=subprocess.DEVNULL,
                                            stdout=log, stderr=log)
        self.adapter = self.shell = None
        self.text = ""
        self.number = 0
        try:
            self.shell = self.connect("shell")
            self.do("true")  # answered when it is up
        except BaseException:
            self.close()
            raise

    def connect(self, name):
        """The other end of one of QEMU's sockets."""
        # The path relative to the folder: a socket's name is short.
        end = time.monotonic() + LIMIT_S
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

    def read_until(self, mark):
        """What the guest prints up to mark."""
        end = time.monotonic() + LIMIT_S
        while mark not in self.text:
            left = max(end - time.monotonic(), 0)
            if not select.select([self.shell], [], [], left)[0]:
                raise AssertionError(f"no {mark!r} within {LIMIT_S} s: {self.text[-500:]!r} "
                                     + self.notes())
            got = self.shell.recv(65536)
            if not got:
                raise AssertionError("the guest ended: " + self.notes())
            self.text += got.decode("utf-8", "replace")
        before, _, self.text = self.text.partition(mark)
        return before

    def do(self, command):
        """(what it prints, exit status)"""
        self.number += 1
        self.shell.sendall(f"{self.number} {command}\n".encode())
        printed = self.read_until(f"<end {self.number} ")
        return printed, int(self.read_until(">"))

    def wait_for(self, command):
        """Repeats a command until it succeeds."""
        end = time.monotonic() + LIMIT_S
        while True:
            printed, status = self.do(command)
            if status == 0:
                return printed
            if time.monotonic() > end:
                raise AssertionError(f"{command!r} did not succeed within {LIMIT_S} s: {printed}")
            time.sleep(0.05)

    def plug(self):
        self.adapter = self.connect("adapter")

    def unplug(self):
        self.adapter.close()
        self.adapter = None

    def send(self, data):
        self.adapter.sendall(data)

    def close(self):
        for end in (self.adapter, self.shell):
            if end:
                end.close()
        self.process.kill()
        self.process.wait()
