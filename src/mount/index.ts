/**
 * From a mount to its network: the parts, heat sources and stage that a budget is solved from.
 * @module coldpath/mount
 */

// Network of a mount
export {
  type MountHeat,
  type Reading,
  type Structure,
  translate,
  type Translation,
} from "./translate.js";
export type { Part } from "./part.js";
export type { PowerSource, WarmSource } from "./heat-sources.js";
export type { StageModel } from "./stage.js";
export type { ContactGroup } from "./layout.js";
export { SheetStore } from "./sheet-model.js";
export { type Settled, settle } from "./settle.js";
export { type MountSpread, spreadsOf } from "./spreads.js";
export { type MountParticles, particleSources } from "./particle-sources.js";
