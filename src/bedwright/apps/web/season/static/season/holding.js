// Pointers on the drawing: pushing, two fingers, the wheel, and pulling a block to another place.

import { Gestures } from "../ground/gestures.js";

export class Holding extends Gestures {
  down(event) {
    const at = this.at(event);
    this.pointers.set(event.pointerId, at);
    this.editor.sheet.setPointerCapture(event.pointerId);
    if (this.pointers.size === 2) return this.beginPinch();
    if (this.pointers.size > 2 || event.button > 1) return;
    const block = event.button === 0 && event.target.closest?.("[data-planting]");
    if (!block) return this.begin(this.panning(at));
    const { planting } = block.dataset;
    // A finger first chooses and only then moves, so that the plan can be pushed about safely.
    const may = this.editor.mayMove && (event.pointerType !== "touch" || this.editor.chosen === planting);
    const act = may ? this.pullingBlock(planting, at) : this.panning(at);
    return this.begin({ ...act, tap: () => this.editor.choose(planting) });
  }

  pullingBlock(code, from) {
    return {
      move: (at) => this.editor.carry(code, from, at),
      end: () => this.editor.setDown(code),
      giveUp: () => this.editor.putBack(),
    };
  }
}
