#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""A real box without hardware: a Debian in an emulator, the package installed, the stand-in modem behind an
emulated USB serial port and behind a 16550. Tries what happens to a box, and prints what it tried, how
long it took and what came out.

    tests/box/box.py FOLDER BASE_IMAGE PACKAGE_BEFORE PACKAGE BY_HAND [NAME ...]

Kernel and initrd lie beside the image; BY_HAND is what `make install` lays down. NAMEs are those of the
functions to try, all when none is named. The emulator killed is the power cut: what the guest has
not flushed is lost. Run by tests/box/box.sh, which makes all of that."""
import base64
import csv
import io
import os
import re
import select
import socket
import subprocess
import sys
import tarfile
import threading
import time
import tty

HURRY_NOT_S = 900  # nothing takes as long; a loaded machine is slow
INES, ROSA = "+12065550110", "+12065550111"
PORT_USB = "/dev/serial/by-id/usb-QEMU_QEMU_USB_SERIAL_MODEM1-if00-port0"
PORT_16550 = "/dev/ttyS1"

# Invented; intervals are common practice, no source.
CONFIG = """modem: { port = "%s"; };
shop: { name = "Alder Works"; number = "+12065550100"; time_zone = "America/Los_Angeles"; };
plans: ( { name = "drive"; title = "Drive oil and filters"; first = 75.0; every = 500.0; } );
kinds: ( { name = "ridge-60"; plans = ("drive"); hours_per_week = 30.0; } );
people: ( { name = "Ines"; phone = "+12065550110"; },
          { name = "Rosa"; phone = "+12065550111"; role = "shop"; } );
machines: ( %s );
"""
# A meter cannot run an hour in a minute, so each reading is of another machine.
FLEET = ["M%d" % number for number in range(1, 31)]
MACHINE = '{ name = "%s"; kind = "ridge-60"; crew = ("Ines"); last_done = { drive = 1075.0; }; }'


class Wrong(Exception):
    """What was tried did not come out as it should."""


def expect(holds, says):
    if not holds:
        raise Wrong(says)


class Modem:
    """The stand-in modem, and the wire from its pseudo-terminal to one of the box's sockets."""

    def __init__(self, folder, program):
        self.link = os.path.join(folder, "modem")
        self.transcript = os.path.join(folder, "transcript")
        self.process = subprocess.Popen(
            [program, "--line", self.link, "--transcript", self.transcript,
             "--state", os.path.join(folder, "modem-state")],
            stdin=subprocess.PIPE, text=True)
        self.plug, self.ended = None, False
        self.sockets = {name: self.listen(os.path.join(folder, name)) for name in ("usb", "com")}
        for name in self.sockets:
            threading.Thread(target=self.wire, args=(name,), daemon=True).start()
        self.plug = "usb"

    @staticmethod
    def listen(path):
        listener = socket.socket(socket.AF_UNIX)
        listener.bind(path)
        listener.listen()
        return listener

    def say(self, line):
        self.process.stdin.write(line + "\n")
        self.process.stdin.flush()

    def open_line(self, name):
        try:
            line = os.open(self.link, os.O_RDWR | os.O_NOCTTY) if self.plug == name else -1
            if line >= 0:
                tty.setraw(line)
            return line
        except OSError:
            return -1

    def wire(self, name):
        """Carries octets both ways while the box runs and the modem is plugged in there."""
        while not self.ended:
            box, _ = self.sockets[name].accept()
            line = -1
            while True:
                if line >= 0 and self.plug != name:
                    os.close(line)
                    line = -1
                line = line if line >= 0 else self.open_line(name)
                ready, _, _ = select.select([box] + ([line] if line >= 0 else []), [], [], 0.1)
                try:
                    if box in ready:
                        octets = box.recv(4096)
                        if not octets:
                            break
                        if line >= 0:
                            os.write(line, octets)
                    if line in ready:
                        octets = os.read(line, 4096)
                        if not octets:
                            raise OSError("the modem was pulled")
                        box.sendall(octets)
                except ConnectionError:
                    break
                except OSError:
                    os.close(line)
                    line = -1
            if line >= 0:  # the box is gone, or lets go of the port
                os.close(line)
                self.say("hang-up")
            box.close()

    def events(self):
        try:
            with open(self.transcript, encoding="latin-1") as lines:
                return lines.read().splitlines()
        except FileNotFoundError:
            return []

    def wait(self, pattern, count=1, timeout_s=HURRY_NOT_S, every_s=0.1):
        """Until so many events match; returns them."""
        until = time.monotonic() + timeout_s
        while True:
            found = [event for event in self.events() if re.search(pattern, event)]
            if len(found) >= count:
                return found
            if time.monotonic() > until or self.process.poll() is not None:
                said = [event for event in self.events() if " text-out " in event]
                raise Wrong("%d of %d came: %s; last out: %s" % (len(found), count, pattern, said[-1:]))
            time.sleep(every_s)

    def answers(self, words):
        return [event for event in self.events() if " text-out " in event and words in event]

    def ask(self, body, words, person=INES):
        """Sends a text and waits for the answer with those words; returns what was answered."""
        self.say('text %s "%s"' % (person, body))
        found = self.wait(' text-out .*body=".*' + re.escape(words))[-1]
        return re.search(r'body="(.*)"', found).group(1)


class Box:
    """The emulated machine, and the hands in it that do what is told."""

    def __init__(self, folder, boot, disk, packages):
        self.folder, self.boot, self.disk, self.packages = folder, boot, disk, packages
        self.process, self.hands, self.monitor = None, None, None

    def path(self, name):
        return os.path.join(self.folder, name)

    def connect(self, name):
        until = time.monotonic() + 60
        while True:
            try:
                plug = socket.socket(socket.AF_UNIX)
                plug.connect(self.path(name))
                return plug.makefile("rwb", buffering=0)
            except OSError:
                if time.monotonic() > until:
                    raise
                time.sleep(0.1)

    def start(self):
        for name in ("hands", "monitor"):
            if os.path.exists(self.path(name)):
                os.unlink(self.path(name))
        self.process = subprocess.Popen(
            ["qemu-system-x86_64", "-m", "512", "-display", "none", "-no-reboot", "-nic", "none",
             "-kernel", os.path.join(self.boot, "kernel"),
             "-initrd", os.path.join(self.boot, "initrd"),
             # A loaded machine makes it slow: what waits for it must not give up.
             "-append", "root=/dev/vda rw console=ttyS0 quiet net.ifnames=0 "
             "systemd.default_timeout_start_sec=900 systemd.mask=systemd-logind.service",
             "-drive", "file=%s,format=qcow2,if=virtio" % self.disk,
             "-drive", "file=%s,format=raw,if=virtio,readonly=on" % self.packages,
             "-serial", "file:" + self.path("console"),
             "-chardev", "socket,id=com,reconnect=1,path=" + self.path("com"),
             "-serial", "chardev:com",
             "-chardev", "socket,id=usb,reconnect=1,path=" + self.path("usb"),
             "-device", "piix3-usb-uhci,id=uhci",
             "-device", "usb-serial,chardev=usb,bus=uhci.0,id=modem,serial=MODEM1,port=1",
             "-device", "virtio-serial-pci",
             "-chardev", "socket,id=hands,server=on,wait=off,path=" + self.path("hands"),
             "-device", "virtserialport,chardev=hands,name=hands",
             "-monitor", "unix:%s,server,nowait" % self.path("monitor")])
        self.monitor = self.connect("monitor")
        self.hands = self.connect("hands")
        expect(self.read_line() == b"ready", "the box does not come up; see " + self.path("console"))

    def read_line(self):
        line = b""
        until = time.monotonic() + HURRY_NOT_S
        while not line.endswith(b"\n"):
            ready, _, _ = select.select([self.hands], [], [], 5)
            got = self.hands.read(65536) if ready else None
            if got == b"" or self.process.poll() is not None or time.monotonic() > until:
                raise Wrong("the box has ended or is silent; see " + self.path("console"))
            line += got or b""
        return line.strip()

    def do(self, script):
        """Runs it in the box as root; returns its exit status and what it said."""
        self.hands.write(base64.b64encode(script.encode()) + b"\n")
        status, _, said = self.read_line().partition(b" ")
        return int(status), base64.b64decode(said).decode("utf-8", "replace").strip()

    def must(self, script):
        status, said = self.do(script)
        expect(status == 0, "%s: ended with %d: %s" % (script, status, said[-600:]))
        return said

    def tell_monitor(self, line):
        self.monitor.write(line.encode() + b"\n")

    def cut_power(self):
        self.process.kill()
        self.process.wait()


# What the unit forbids, tried from inside it: a name and a line of shell that must fail.
FORBIDDEN = [
    ("a network socket", "perl -MSocket -e 'socket(S, AF_INET, SOCK_STREAM, 0) or exit 1'"),
    ("a packet socket", "perl -e 'socket(S, 17, 3, 0) or exit 1'"),
    ("writing to /etc", "echo x >/etc/box-try"),
    ("writing to /usr", "echo x >/usr/box-try"),
    ("writing beside the ledger", "echo x >/var/lib/box-try"),
    ("looking into /root", "ls /root/packages"),
    ("the disk itself", "head -c 1 /dev/vda"),
    ("the log of the kernel", "dmesg"),
    ("a setting of the kernel", "echo 1 >/proc/sys/kernel/sysrq"),
    ("the processes of others", "test -d /proc/1"),
    ("setting the clock", "date -s 2001-01-01"),
    ("another name of the host", "perl -e 'exit(syscall(170, \"x\", 1) != 0)'"),
    ("mounting", "mount -t tmpfs none /mnt"),
    ("a device node", "mknod /var/lib/meterpost/node c 1 1"),
    ("a file that gives rights", "cp /bin/true /var/lib/meterpost/t && chmod u+s /var/lib/meterpost/t"),
    ("becoming root", "perl -e '$! = 0; $> = 0; $< = 0; exit($> != 0)'"),
    ("a name space of its own", "unshare --user true"),
    ("memory both written and run", "perl -e 'exit(syscall(9, 0, 4096, 7, 0x22, -1, 0) == -1)'"),
    ("real-time priority", "chrt -f 10 true"),
    ("another personality", "perl -e 'exit(syscall(135, 0x0040000) == -1)'"),
    ("loading a module", "modprobe loop"),
    ("more than 8 tasks", "perl -e 'for (1 .. 20) { defined(my $p = fork) or exit 1; $p or do { sleep 9; exit } }'"),
]
ALLOWED = [
    # The daemon holds it alone: busy, and not forbidden.
    ("the port of the modem", "perl -e 'open(my $f, q(<), q(%s)) or $!{EBUSY} or exit 1'" % PORT_USB),
    ("a 16550", "head -c 0 %s" % PORT_16550),
    ("the folder of the ledger", "echo x >/var/lib/meterpost/try && rm /var/lib/meterpost/try"),
    ("the folder of copies", "echo x >/var/lib/meterpost/backups/try && rm /var/lib/meterpost/backups/try"),
]


class Trial:
    def __init__(self, folder, boot, base, before, package, hand):
        self.folder = folder
        disk, packages = os.path.join(folder, "disk"), os.path.join(folder, "packages.tar")
        subprocess.run(["qemu-img", "create", "-q", "-f", "qcow2", "-F", "raw",
                        "-b", os.path.abspath(base), disk], check=True)
        with tarfile.open(packages, "w") as tar:
            tar.add(before, "before.deb")
            tar.add(package, "package.deb")
            tar.add(hand, "hand")
        self.modem = Modem(folder, "build/standin-modem")
        self.box = Box(folder, boot, disk, packages)
        self.unread = iter(FLEET)
        self.verdicts = []
        self.package_at = self.answer_at = None  # when the one was installed, when the first text was answered
        self.began = time.monotonic()

    def reading(self):
        """What is texted, and the answer's words; of another machine each time."""
        machine = next(self.unread)
        return machine + " 1340h", machine + " 1340h noted"

    def text(self):
        body, words = self.reading()
        began = time.monotonic()
        said = self.modem.ask(body, words)
        ended = time.monotonic()
        self.answer_at = self.answer_at or ended
        return "%s -> %s (%.0f s)" % (body, said, ended - began)

    def kept_once(self):
        """Every text that a person sent is on record once; every answer went out once, or twice at most
        where a power cut hid its fate."""
        sent = len([event for event in self.modem.events() if " text-in " in event])
        rows = list(csv.reader(io.StringIO(self.box.must("meterpost export texts"))))
        texts = [row[4] for row in rows[1:] if row[0] == "in"]
        expect(len(texts) == sent, "%d texts were sent, %d are on record" % (sent, len(texts)))
        expect(len(set(texts)) == len(texts), "a text is on record twice: %s" % sorted(texts))
        return "%d texts sent, %d on record, none twice" % (sent, len(texts))

    # ---- what is tried, in order

    def boots(self):
        self.box.start()
        return self.box.must("uname -sr; systemctl is-system-running --wait || true").replace("\n", ", ")

    def installs(self):
        self.package_at = time.monotonic()
        self.box.must("mkdir /root/packages && tar -x -C /root/packages -f /dev/vdb")
        said = self.box.must("dpkg -i /root/packages/before.deb")
        expect("is installed and not started yet" in said, said)
        expect(self.box.do("systemctl is-active meterpost")[1] == "inactive", "it started by itself")
        expect(self.box.must("stat -c '%a %U %G' /etc/meterpost.conf") == "640 root meterpost",
               "the config is not for root and the group alone")
        return self.box.must("dpkg-query -W -f '${Package} ${Version}' meterpost") + ", not started; " + \
            self.box.must("id meterpost")

    def put_config(self, port, more=()):
        machines = ",\n            ".join(MACHINE % name for name in FLEET + list(more))
        self.box.must("cat >/etc/meterpost.conf <<'END'\n%sEND\nsync; meterpost check" % (CONFIG % (port, machines)))

    def set_up(self):
        said = self.box.must(
            'meterpost setup --yes --shop "Alder Works" --country 1 --number +12065550100 '
            '--zone America/Los_Angeles --person "Ines, +12065550110, crew, en" '
            '--person "Rosa, +12065550111, shop, en" ' +
            " ".join('--machine "%s, Ines, Harbor Park, 1075"' % name for name in FLEET) +
            " --port %s </dev/null" % PORT_USB)
        expect("systemctl enable --now meterpost" in said, said)
        self.box.must("meterpost check && su -s /bin/sh meterpost -c 'meterpost check'")
        expect(self.box.must("stat -c '%a %G' /etc/meterpost.conf") == "640 meterpost", "who may read it")
        return "the modem found: " + [l for l in said.splitlines() if "modem" in l][0].strip()

    def starts(self):
        self.box.must("systemctl enable --now meterpost")
        expect(self.box.must("systemctl is-active meterpost meterpost-backup.timer") == "active\nactive",
               "the service or the timer of its copies does not run")
        self.modem.wait(r'host "AT\+CNMI=')
        return self.box.must("readlink -f " + PORT_USB)

    def health_is_well(self):
        status, said = self.box.do("meterpost health")
        expect(status == 0, said)
        return "%d checks, all ok" % len(said.splitlines())

    def exposure(self):
        said = self.box.must("for u in meterpost meterpost-backup meterpost-metrics; do "
                             "systemd-analyze security --no-pager $u.service | tail -n 1; done")
        levels = re.findall(r"for (\S+)\.service: ([0-9.]+)", said)
        expect(len(levels) == 3 and all(float(level) <= 1.0 for _, level in levels), said)
        return ", ".join("%s %s" % level for level in levels)

    def memory(self):
        said = self.box.must("cat /proc/$(systemctl show -P MainPID meterpost)/status")
        status = dict(line.split(":\t", 1) for line in said.splitlines() if ":\t" in line)
        expect(status["Seccomp"] == "2" and int(status["CapEff"], 16) == 0, said)
        return "%.1f MiB resident, seccomp mode 2, no capabilities" % (
            int(status["VmRSS"].split()[0]) / 1024)

    def limits(self):
        lines = "".join("if { %s; } >/dev/null 2>&1; then echo 'yes %s'; else echo 'no %s'; fi\n"
                        % (line, name, name) for name, line in FORBIDDEN + ALLOWED)
        self.box.must("cat >/run/try.sh <<'END'\n%sEND\n" % lines)
        self.box.must("""sed -e 's|^Type=.*|Type=oneshot|' -e '/^Watchdog/d' -e '/^Restart/d' \\
            -e 's|^ExecStart=.*|ExecStart=/bin/sh /run/try.sh|' -e '/^RuntimeDirectory/d' \\
            "$(systemctl show -P FragmentPath meterpost)" >/run/systemd/system/box-try.service
            systemctl daemon-reload; systemctl start box-try""")
        said = self.box.must("journalctl -o cat -u box-try")
        for name, _ in FORBIDDEN:
            expect("no %s\n" % name in said + "\n", "not refused: %s\n%s" % (name, said))
        for name, _ in ALLOWED:
            expect("yes %s\n" % name in said + "\n", "refused: %s\n%s" % (name, said))
        return "refused: " + ", ".join(name for name, _ in FORBIDDEN) + \
            "; allowed: " + ", ".join(name for name, _ in ALLOWED)

    def moved(self):
        body, words = self.reading()
        self.modem.say("unplug")
        self.box.tell_monitor("device_del modem")
        self.box.must("for i in $(seq 600); do [ -e %s ] || exit 0; sleep 0.1; done; exit 1" % PORT_USB)
        self.modem.say('text %s "%s"' % (INES, body))
        time.sleep(2)
        began = time.monotonic()
        self.box.tell_monitor("device_add usb-serial,chardev=usb,bus=uhci.0,id=modem,serial=MODEM1,port=2")
        self.modem.say("replug")
        self.modem.wait(' text-out .*body=".*' + words)
        return "answered %.0f s after it was plugged in: %s" % (
            time.monotonic() - began, self.box.must("readlink /sys/class/tty/ttyUSB*").splitlines()[-1].split("/")[-4])

    def reload(self):
        self.put_config(PORT_USB, ["TR-9"])
        before = self.box.must("systemctl show -P MainPID meterpost")
        self.box.must("systemctl reload meterpost")
        said = self.modem.ask("TR-9 1340h", "TR-9 1340h noted")
        expect(before == self.box.must("systemctl show -P MainPID meterpost"), "it was started anew")
        return "a new machine, the same process: " + said

    def timers(self):
        """The copy of a night that the box slept through; the figures of the next minute."""
        self.box.must("""set -e
            touch -d '2 days ago' /var/lib/systemd/timers/stamp-meterpost-backup.timer
            mkdir -p /run/systemd/system/meterpost-backup.timer.d
            printf '[Timer]\\nRandomizedDelaySec=0\\n' >/run/systemd/system/meterpost-backup.timer.d/now.conf
            systemctl daemon-reload
            systemctl restart meterpost-backup.timer
            for i in $(seq 300); do ls /var/lib/meterpost/backups/*.db && exit 0; sleep 1; done; exit 1""")
        copies = self.box.must("ls /var/lib/meterpost/backups")
        expect(re.fullmatch(r"meterpost-\d{4}-\d\d-\d\d\.db", copies), copies)
        self.box.must("""set -e
            systemctl start meterpost-metrics.timer
            for i in $(seq 600); do [ -e /run/meterpost-metrics/meterpost.prom ] && exit 0; sleep 1; done; exit 1""")
        figures = self.box.must("cat /run/meterpost-metrics/meterpost.prom")
        expect("meterpost_daemon_up 1" in figures and "meterpost_backups 1" in figures, figures)
        self.box.must("systemctl stop meterpost-metrics.timer")
        return "%s; %d figures" % (copies, len([l for l in figures.splitlines() if l[0] != "#"]))

    def upgrades(self):
        # The admin has edited the port's rule where it lies.
        self.box.must("echo '# mine' >>/usr/lib/udev/rules.d/78-meterpost.rules")
        config = self.box.must("md5sum /etc/meterpost.conf")
        before = self.box.must("systemctl show -P MainPID meterpost")
        said = self.box.must("dpkg --force-confold -i /root/packages/package.deb")
        expect(config == self.box.must("md5sum /etc/meterpost.conf"), "the config was written over")
        expect("it is kept as" in said and self.box.must(
            "tail -n 1 /etc/udev/rules.d/78-meterpost.rules") == "# mine", "the edited rule is gone: " + said)
        expect(self.box.must("systemctl is-active meterpost") == "active" and
               before != self.box.must("systemctl show -P MainPID meterpost"), "it was not started anew")
        return self.box.must("dpkg-query -W -f '${Version}' meterpost") + \
            ", config and edited rule kept, started anew; " + self.text()

    def ready(self):
        """Until the daemon says that its modem serves."""
        self.box.must("for i in $(seq 900); do meterpost health | grep -q '^ok  *modem' && exit 0; sleep 1; done; exit 1")

    def disk_full(self):
        """Filled to the last block that the daemon's user may have."""
        body, words = self.reading()
        self.box.must("""systemctl restart meterpost
            fallocate -l $(($(stat -f -c '%a * %S' /) - 4194304)) /var/filler || exit 1
            su -s /bin/sh meterpost -c 'cat /dev/zero >/var/lib/meterpost/filler' && exit 1
            su -s /bin/sh meterpost -c 'echo x >/var/lib/meterpost/x' && exit 1
            rm -f /var/lib/meterpost/x""")
        try:
            self.ready()
            events = len(self.modem.events())
            self.modem.say('text %s "%s"' % (INES, body))
            self.box.must("""for i in $(seq 900); do
                journalctl -u meterpost --since @%d | grep 'could not be kept' && exit 0; sleep 1; done; exit 1"""
                          % (self.box_time() - 60))
            late = self.modem.events()[events:]
            expect(not [e for e in late if " deleted " in e or " text-out " in e], "it was not kept in the modem")
            health = self.box.do("meterpost health")[1].splitlines()[0]
            expect(health.startswith("fault") and "disk is full" in health, health)
        finally:
            self.box.must("rm /var/filler /var/lib/meterpost/filler")
        self.modem.wait(' text-out .*body=".*' + words)
        return "the text stays in the modem, health says: %s; answered once there was room; %s" % (
            re.sub(" +", " ", health), self.kept_once())

    def box_time(self):
        return int(self.box.must("date +%s"))

    def use(self, plug, port):
        self.modem.plug = plug
        self.modem.say("hang-up")
        self.put_config(port)
        self.box.must("systemctl reload meterpost")

    def behind_16550(self):
        self.use("com", PORT_16550)
        try:
            return self.text()
        finally:
            self.use("usb", PORT_USB)

    def power_cut(self, event):
        """The emulator is killed at that event of a text's way; then it is booted again."""
        body, words = self.reading()
        seen = len(self.modem.wait(event, 0))
        self.modem.say('text %s "%s"' % (INES, body))
        self.modem.wait(event, seen + 1, every_s=0.01)
        self.box.cut_power()
        began = time.monotonic()
        self.box.start()
        self.modem.wait(' text-out .*body=".*' + words)
        took = time.monotonic() - began
        self.box.must("sync")
        said = self.text()  # what came before is settled by then
        count = len(self.modem.answers(words))
        expect(count in (1, 2), "answered %d times" % count)
        return "%s answered %s, %.0f s after the power was back; then %s; %s" % (
            body, "once" if count == 1 else "twice: its fate was hidden", took, said, self.kept_once())

    def cut_while_read(self):
        return self.power_cut(r" read id=| forwarded id=")

    def cut_while_sent(self):
        return self.power_cut(r' host "AT\+CMGS=')

    def cut_when_out(self):
        return self.power_cut(r" part-out ")

    def year_1970(self):
        # The kernel refuses a time before it was started, seen from 1970.
        self.box.must("set -e; systemctl stop meterpost; date -s '1970-01-01 12:00' >/dev/null; "
                      "systemctl start meterpost")
        said = self.text()
        health = [line for line in self.box.do("meterpost health")[1].splitlines() if " clock " in line]
        expect(health and health[0].startswith("fault"), "health does not see it: %s" % health)
        at = self.box.must("meterpost export readings | tail -n 1").split(",")[2]
        expect(at[:4] == time.strftime("%Y"), "the reading is dated " + at)
        self.box.must("date -s @%d >/dev/null; systemctl restart meterpost" % time.time())
        return "%s, dated by the network: %s; health says: %s" % (said, at, re.sub(" +", " ", health[0]))

    def goes(self):
        self.box.must("dpkg --force-confold -i /root/packages/package.deb && dpkg --remove meterpost")
        expect(self.box.must("ls /etc/meterpost.conf /var/lib/meterpost/ledger.db").count("\n") == 1, "gone")
        expect(self.box.do("systemctl is-active meterpost")[1] == "inactive", "it runs on")
        self.box.must("dpkg -i /root/packages/package.deb")
        said = self.box.must("dpkg --purge meterpost")
        expect("the ledger stays" in said and self.box.do("test -e /etc/meterpost.conf")[0] == 1, said)
        self.box.must("test -s /var/lib/meterpost/ledger.db && dpkg -i /root/packages/package.deb")
        self.box.must("METERPOST_PURGE=ledger dpkg --purge meterpost && test ! -e /var/lib/meterpost")
        return "stopped; removed and purged the ledger stays, unless asked"

    def by_hand(self):
        """`make install` was there before: the package says what to do, that is done, and all goes on."""
        self.box.must("""dpkg --purge meterpost
            cp -R /root/packages/hand/. / && systemd-sysusers /etc/sysusers.d/meterpost.conf &&
            chgrp meterpost /etc/meterpost.conf && systemctl daemon-reload && udevadm control --reload""")
        self.put_config(PORT_USB)
        self.box.must("systemctl enable --now meterpost || { journalctl -o cat -u meterpost | tail -n 5; exit 1; }")
        before = self.text()
        status, said = self.box.do("dpkg --force-confold -i /root/packages/package.deb")
        expect(status != 0 and "an installation made by hand" in said and "make uninstall" in said, said)
        advice = re.search(r"without them: (.*)", said).group(1).replace("sudo ", "")
        self.box.must(advice)
        self.box.must("dpkg --force-confold -i /root/packages/package.deb && systemctl enable --now meterpost")
        after = self.text()
        expect(self.box.must("readlink -f /proc/$(systemctl show -P MainPID meterpost)/exe") == "/usr/bin/meterpost",
               "the old one runs")
        listed = self.box.must("meterpost export readings")
        for said in before, after:
            expect("\n%s,1340," % said.split()[0] in listed, "not on record: " + said)
        self.box.must("systemctl start meterpost-backup && meterpost health | grep '^ok  *backup'")
        return "refused with what to type; that typed: %s; then by the package: %s; both on record" % (before, after)

    # Each with what is printed of it; the first four make ready for any of the others.
    READY = [
        (boots, "boots"), (installs, "package installed"), (set_up, "set up by one command"), (starts, "started"),
    ]
    TRIED = [
        (text, "text in and out over USB"), (health_is_well, "health"), (exposure, "exposure at most 1.0"),
        (memory, "memory and rights"), (limits, "limits of the unit, tried from inside"),
        (moved, "unplugged, a text, plugged in elsewhere"), (reload, "reload"),
        (timers, "copy and figures by their timers"), (upgrades, "upgrade from the package before"),
        (disk_full, "disk full"), (behind_16550, "text in and out over a 16550"),
        (cut_while_read, "power cut while the text is read"),
        (cut_while_sent, "power cut while the answer is sent"),
        (cut_when_out, "power cut when the answer is out"), (year_1970, "clock at 1970"),
        (kept_once, "nothing lost, nothing twice"), (goes, "removal and purge"),
        (by_hand, "over an installation by hand"),
    ]

    def try_one(self, tried, name):
        began = time.monotonic()
        try:
            verdict, says = "ok    ", tried(self)
        except Wrong as wrong:
            verdict, says = "FAILED", str(wrong)
        self.verdicts.append("%s %4.0f s  %s" % (verdict, time.monotonic() - began, name))
        print("%s: %s" % (self.verdicts[-1], says), flush=True)

    def run(self, wanted):
        """All, or those wanted, by their names here."""
        steps = self.READY + [step for step in self.TRIED if not wanted or step[0].__name__ in wanted]
        print("box: %d things to try, by software emulation alone" % len(steps), flush=True)
        for tried, name in steps:
            self.try_one(tried, name)
            if self.box.process is None or self.box.process.poll() is not None:
                print("box: the emulator does not run; the rest is left", flush=True)
                break
        return self.sum_up(len(steps))

    def sum_up(self, steps):
        failed = sum(verdict.startswith("FAILED") for verdict in self.verdicts)
        print("box: what was tried")
        for verdict in self.verdicts:
            print("    " + verdict)
        if self.package_at and self.answer_at:
            print("box: from the package to the first answered text: 3 commands, %.0f s"
                  % (self.answer_at - self.package_at))
        print("box: %d tried, %d failed, %d left, %.0f s" % (
            len(self.verdicts), failed, steps - len(self.verdicts), time.monotonic() - self.began))
        return failed == 0 and steps == len(self.verdicts)

    def end(self):
        self.modem.ended = True
        for process in (self.box.process, self.modem.process):
            if process is not None and process.poll() is None:
                process.kill()
                process.wait()


def main():
    folder, base, before, package, hand = sys.argv[1:6]
    trial = Trial(os.path.abspath(folder), os.path.dirname(base), base, before, package, hand)
    unknown = set(sys.argv[6:]) - {tried.__name__ for tried, _ in Trial.TRIED}
    if unknown:
        sys.exit("box: nothing is called %s; there are: %s" % (
            " ".join(sorted(unknown)), " ".join(tried.__name__ for tried, _ in Trial.TRIED)))
    well = False
    try:
        well = trial.run(sys.argv[6:])
    finally:
        trial.end()
    sys.exit(not well)


if __name__ == "__main__":
    main()
