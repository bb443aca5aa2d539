from __future__ import annotations

from pathlib import PurePosixPath

import pytest

from hotelwatch.store.shares import is_unc, network_kind, network_kind_of

# Form: proc(5), /proc/pid/mountinfo.
MOUNTS = r"""22 1 8:1 / / rw,relatime shared:1 - ext4 /dev/sda1 rw
30 22 0:40 / /mnt/office rw,relatime shared:20 - cifs //server/office rw,vers=3.0
31 30 8:2 / /mnt/office/local rw - ext4 /dev/sdb1 rw
32 22 0:41 / /mnt/front\040desk rw - nfs4 server:/export rw
33 22 0:42 / /home/anna/far rw master:1 propagate_from:2 - fuse.sshfs anna@server: rw
34 22 0:43 / /mnt/host rw - 9p share rw
35 22 0:44 / /mnt/twice rw - nfs server:/a rw
36 22 0:45 / /mnt/twice rw - tmpfs tmpfs rw
broken line
"""


@pytest.mark.parametrize(
    ("path", "kind"),
    [
        ("/home/anna/house.hotel", ""),
        ("/mnt/office/house.hotel", "cifs"),
        ("/mnt/officer/house.hotel", ""),
        ("/mnt/office/local/house.hotel", ""),
        ("/mnt/front desk/a/house.hotel", "nfs4"),
        ("/home/anna/far/house.hotel", "fuse.sshfs"),
        ("/mnt/host/house.hotel", "9p"),
        ("/mnt/twice/house.hotel", ""),
    ],
)
def test_the_innermost_mount_says_whether_it_is_a_share(path, kind):
    assert network_kind(PurePosixPath(path), MOUNTS) == kind


@pytest.mark.parametrize(
    ("path", "names_a_server"),
    [
        (r"\\server\share\house.hotel", True),
        ("//server/share/house.hotel", True),
        (r"\\?\UNC\server\share\house.hotel", True),
        (r"\\?\C:\house.hotel", False),
        (r"\\.\pipe\x", False),
        (r"C:\Users\anna\house.hotel", False),
    ],
)
def test_a_windows_path_that_names_a_server_is_a_share(path, names_a_server):
    assert is_unc(path) is names_a_server


def test_the_folder_of_the_tests_is_no_share(tmp_path):
    assert network_kind_of(tmp_path / "house.hotel") == ""
