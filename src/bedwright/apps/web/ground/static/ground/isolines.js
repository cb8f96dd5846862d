// Lines of equal hours of sun from a grid of cells, and the ground on their shady side.

/** Rings in cell units round all ground below a level: column and row, both from the south-west. */
export function ringsBelow(values, nEast, nNorth, level) {
  // A frame of full sun round the grid closes every ring, at the outer edge of the cells.
  const at = (i, j) => (i < 0 || j < 0 || i >= nEast || j >= nNorth ? level + 1e3 : values[j * nEast + i]);
  const next = new Map();
  const point = (i0, j0, i1, j1) => {
    const a = at(i0, j0), b = at(i1, j1);
    const k = Math.abs(a - b) > 500 ? 0.5 : (level - a) / (b - a);
    return [i0 + (i1 - i0) * k, j0 + (j1 - j0) * k];
  };
  const key = (i0, j0, i1, j1) => (i0 + i1 + 4) * 100003 + (j0 + j1 + 4);
  const where = new Map();
  const edge = (e, i, j) => {
    const ends = [[i, j, i + 1, j], [i + 1, j, i + 1, j + 1], [i, j + 1, i + 1, j + 1], [i, j, i, j + 1]][e];
    const name = key(...ends);
    if (!where.has(name)) where.set(name, point(...ends));
    return name;
  };
  // Edges of a square: 0 south, 1 east, 2 north, 3 west. Low ground lies left of each piece.
  const PIECES = {
    1: [[0, 3]], 2: [[1, 0]], 3: [[1, 3]], 4: [[2, 1]], 5: [[0, 3], [2, 1]], 6: [[2, 0]], 7: [[2, 3]],
    8: [[3, 2]], 9: [[0, 2]], 10: [[1, 0], [3, 2]], 11: [[1, 2]], 12: [[3, 1]], 13: [[0, 1]], 14: [[3, 0]],
  };
  for (let j = -1; j < nNorth; j++) {
    for (let i = -1; i < nEast; i++) {
      const low = (at(i, j) < level ? 1 : 0) | (at(i + 1, j) < level ? 2 : 0) | (at(i + 1, j + 1) < level ? 4 : 0) | (at(i, j + 1) < level ? 8 : 0);
      for (const [from, to] of PIECES[low] ?? []) next.set(edge(from, i, j), edge(to, i, j));
    }
  }
  const rings = [];
  while (next.size) {
    const [start] = next.keys();
    const ring = [];
    let here = start;
    while (next.has(here)) {
      ring.push(where.get(here));
      const to = next.get(here);
      next.delete(here);
      here = to;
    }
    if (ring.length > 2) rings.push(ring);
  }
  return rings;
}
