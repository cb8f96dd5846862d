// Which piece of the ground is seen, and how large. x runs right and y down, in CSS pixels.

const LEAST = 0.5;
const MOST = 1200;

export class View extends EventTarget {
  constructor() {
    super();
    this.scale = 20;
    this.west = 0;
    this.north = 0;
    this.width = 1;
    this.height = 1;
  }

  x(east) { return (east - this.west) * this.scale; }
  y(north) { return (this.north - north) * this.scale; }
  place([e, n]) { return [this.x(e), this.y(n)]; }
  ground([x, y]) { return [this.west + x / this.scale, this.north - y / this.scale]; }
  get middle() { return this.ground([this.width / 2, this.height / 2]); }

  resize(width, height) {
    const centre = this.middle;
    this.width = width;
    this.height = height;
    this.centre(centre);
  }

  centre([e, n]) {
    this.west = e - this.width / 2 / this.scale;
    this.north = n + this.height / 2 / this.scale;
    this.tell();
  }

  pan(dx, dy) {
    this.west -= dx / this.scale;
    this.north += dy / this.scale;
    this.tell();
  }

  zoom(factor, at = [this.width / 2, this.height / 2]) {
    const ground = this.ground(at);
    this.scale = Math.min(MOST, Math.max(LEAST, this.scale * factor));
    this.west = ground[0] - at[0] / this.scale;
    this.north = ground[1] + at[1] / this.scale;
    this.tell();
  }

  /** Show a box of ground with some room round it. */
  fit(box) {
    if (!box) return;
    const [west, south, east, north] = box;
    const wide = Math.max(east - west, 0.5), high = Math.max(north - south, 0.5);
    // At the foot lies the scale bar.
    const room = this.width < 500 ? 12 : 24, foot = 40;
    const within = [Math.max(40, this.width - 2 * room), Math.max(40, this.height - room - foot)];
    this.scale = Math.min(MOST, Math.max(LEAST, Math.min(within[0] / wide, within[1] / high)));
    this.centre([(west + east) / 2, (south + north) / 2 - (foot - room) / 2 / this.scale]);
  }

  /** Bring a point into sight if it is out of it. */
  reveal(point) {
    const [x, y] = this.place(point);
    if (x < 20 || y < 20 || x > this.width - 20 || y > this.height - 20) this.centre(point);
  }

  tell() { this.dispatchEvent(new Event("change")); }
}
