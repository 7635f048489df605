"""Runs the command after its own two arguments, seconds of the processor allowed and a file for
the report: exit code, seconds of the processor and megabytes of the command alone.

A process that is started counts the memory of the one that started it until it has become itself.
The tests hold hundreds of megabytes; this small one between them holds ten.
"""

import os
import resource
import sys

seconds, report, *command = sys.argv[1:]
resource.setrlimit(resource.RLIMIT_CPU, (int(seconds), int(seconds)))
_, status, used = os.wait4(os.posix_spawn(command[0], command, os.environ), 0)
with open(report, "w", encoding="ascii") as to:
    code = os.waitstatus_to_exitcode(status)
    to.write(f"{code} {used.ru_utime + used.ru_stime} {used.ru_maxrss / 1024.0}")
