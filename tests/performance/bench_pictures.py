"""A scan of 12000 x 12000 pixels: time and memory to a working copy, time to the first look; in fresh processes."""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image

__all__ = ["figures"]

SIDE_PX = 12_000
GOALS = {"huge_scan_s": 4.0, "huge_scan_mb": 800.0, "first_preview_s": 0.5}

# What the window does when a picture is opened, and nothing else; memory is the peak of the whole process. The kernel's
# own mark is read where there is one: the figure of getrusage also counts what the starting process held.
_ASK = """
import json, resource, sys, time
from pathlib import Path
from coverlayout.motif.pixels import pixels
from coverlayout.motif.tile import open_picture
data = Path(sys.argv[1]).read_bytes()
start = time.perf_counter()
open_picture(data, "scan.jpg")
rgb = pixels(data, longest_px=int(sys.argv[2]), quick=sys.argv[3] == "quick")
seconds = time.perf_counter() - start
status = Path("/proc/self/status")
if status.exists():
    peak = next(int(line.split()[1]) for line in status.read_text().splitlines() if line.startswith("VmHWM:")) / 1024
else:
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / (2**20 if sys.platform == "darwin" else 1024)
print(json.dumps({"s": seconds, "mb": peak, "size": rgb.shape}))
"""


def figures(shared: Path | None) -> dict[str, dict[str, Any]]:
    """The three figures; the scan is drawn here and thrown away again."""
    del shared
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "scan.jpg"
        draw_scan(path)
        working = _asked(path, 6000, "exact")
        preview = _asked(path, 1500, "quick")
    values = {"huge_scan_s": working["s"], "huge_scan_mb": working["mb"], "first_preview_s": preview["s"]}
    return {name: {"value": round(values[name], 3), "goal": goal} for name, goal in GOALS.items()}


def draw_scan(path: Path) -> None:
    """A printed cloth as a scanner sees it: soft motifs and a little noise, about 30 MB as JPEG."""
    random = np.random.default_rng(11)
    blobs = Image.fromarray(random.integers(40, 220, (250, 250, 3)).astype(np.uint8)).resize(
        (3000, 3000), Image.Resampling.BICUBIC
    )
    noisy = np.clip(np.asarray(blobs).astype(np.int16) + random.normal(0, 3, (3000, 3000, 1)), 0, 255)
    part = Image.fromarray(noisy.astype(np.uint8))
    scan = Image.new("RGB", (SIDE_PX, SIDE_PX))
    for left in range(0, SIDE_PX, 3000):
        for top in range(0, SIDE_PX, 3000):
            scan.paste(part, (left, top))
    scan.save(path, quality=88, dpi=(300, 300))


def _asked(path: Path, longest_px: int, how: str) -> dict[str, Any]:
    command = [sys.executable, "-c", _ASK, str(path), str(longest_px), how]
    done = subprocess.run(command, check=True, stdout=subprocess.PIPE, text=True)
    answer: dict[str, Any] = json.loads(done.stdout)
    assert max(answer["size"]) == longest_px, answer
    return answer
