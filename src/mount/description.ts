/**
 * What a user writes down: how a chip is held, wired and loaded.
 *
 * Lengths, powers, forces and temperatures are plain numbers in SI or strings with a unit
 * (`"25 um"`, `"-95 dBm"`), or a spread of such: `spread("20 nm", "40 nm")`. Names of materials are those
 * of data/materials.
 * @module
 */
import type { QuasiparticleDensity } from "../device/limit.js";
import type { ResonatorOptions } from "../device/quality.js";
import type { Glue as GlueJoint } from "../joints/glue.js";
import type { Demagnetisation as SaltOptions } from "../loads/demagnetisation.js";
import type { Dilution } from "../loads/dilution.js";
import type { EnergySpectrum } from "../loads/energy-spectrum.js";
import type { Infrared } from "../loads/infrared.js";
import type { Lamp } from "../loads/lamp.js";
import type { Millimetre } from "../loads/millimetre.js";
import type { MuonHits } from "../loads/muons.js";
import type { NightSky } from "../loads/night-sky.js";
import type { Optical } from "../loads/optical.js";
import type { Radiation } from "../loads/radiation.js";
import type { CoolingCurve } from "../loads/stage.js";
import type { ReadoutTones } from "../loads/tones.js";
import type { Wiring } from "../loads/wiring.js";
import type { ResidualResistivityRatio } from "../materials/types.js";
import type {
  Angle,
  Area,
  Conductance,
  Energy,
  Force,
  Length,
  Power,
  Resistance,
  Temperature,
} from "../units/quantity.js";
import type { Uncertain, UncertainFields } from "../units/spread.js";

/** Options whose name the mount gives. */
export type Unnamed<T> = T extends unknown ? Omit<T, "name"> : never;

/** A load that is described as by itself, without its name. */
type LoadOf<Kind extends string, Options> = LoadBase & {
  readonly kind: Kind;
} & UncertainFields<Unnamed<Options>>;

/** How pure a metal is: a ratio, or one with the warm temperature it was measured from. */
export type UncertainPurity =
  | Uncertain<number>
  | UncertainFields<Exclude<ResidualResistivityRatio, number>>;

/** The chip: a rectangular plate. */
export interface Die {
  /** Material, for example `"silicon"`. */
  readonly material: string;
  /** Side along the x axis [m]. */
  readonly width: Uncertain<Length>;
  /** Side along the y axis [m]. */
  readonly length: Uncertain<Length>;
  /** Thickness [m]. */
  readonly thickness: Uncertain<Length>;
  /** Mean free path of phonons [m]; from the thickness and diffuse faces when absent. */
  readonly meanFreePath?: Uncertain<Length>;
  /** Share of phonons that the faces reflect like a mirror, 0 to below 1; 0 when absent. */
  readonly specularity?: Uncertain<number>;
  /**
   * `"sheet"` (default): the temperature of every place, with pads, clamps and glue where they are.
   * `"centre and edge"`, quick: the load is spread evenly and leaves at the edges that have bonds; the
   * centre is the hottest place. `"one node"`: the die has one temperature.
   */
  readonly model?: "sheet" | "centre and edge" | "one node";
  /**
   * Cells of the sheet along the longer side: a power of two from 8 to 512. When absent 128, or more
   * where contacts stand closer than that tells apart.
   */
  readonly cells?: number;
}

/** A place on the die, from its lower left corner. */
export interface Place {
  /** From the lower left corner of the die to the right [m]. */
  readonly x: Uncertain<Length>;
  /** From the lower left corner of the die upward [m]. */
  readonly y: Uncertain<Length>;
}

/** A metal film on the die: how heat gets into it. */
export interface Film {
  /** Metal, for example `"gold"`. */
  readonly material: string;
  /** Thickness [m]. */
  readonly thickness: Uncertain<Length>;
  /** Purity: resistivity warm over residual, above 1. */
  readonly residualResistivityRatio?: UncertainPurity;
  /**
   * Heat flow from die to film: `"diffuse mismatch"` (default, from speeds of sound), a `measured` one
   * by its name in data/joints/boundary.csv, or a given boundary resistance R_B·T³ [m² K⁴/W].
   */
  readonly boundary?:
    | "diffuse mismatch"
    | {
        /** Name in data/joints/boundary.csv. */
        readonly measured: string;
      }
    | {
        /** R_B·T³ [m² K⁴/W]. */
        readonly resistance: Uncertain<number>;
      };
  /**
   * Electron-phonon coupling: the catalogue's when absent; a `sample` of it by name; or your own
   * `coefficient` Σ [W/(m³ Kⁿ)] with its `exponent` n.
   */
  readonly coupling?:
    | {
        /** Name of the catalogue's sample. */
        readonly sample: string;
      }
    | {
        /** Σ [W/(m³ Kⁿ)]. */
        readonly coefficient: Uncertain<number>;
        /** n, 3 to 8. */
        readonly exponent: Uncertain<number>;
      };
}

/** Metal pads along the edges of the die, one or more bonds on each. */
export interface Pads extends Film {
  /** Side along the die's edge [m]. */
  readonly width: Uncertain<Length>;
  /** Side across the die's edge [m]. */
  readonly length: Uncertain<Length>;
  /** From the die's edge to the pad [m]; 0 when absent. */
  readonly inset?: Uncertain<Length>;
}

/** A closed band of metal along the die's edges, on which the bonds stand in place of pads. */
export interface Ring extends Film {
  /** Width of the band [m]. */
  readonly width: Uncertain<Length>;
  /** From the die's edge to the band [m]; 0 when absent. */
  readonly inset?: Uncertain<Length>;
}

/** A metal film on the back of the die, pressed on the box. */
export interface Back {
  /** Metal on the back of the die. */
  readonly film: Film;
  /** How the film's face meets the box: pressed faces and their whole force, or a measured joint. */
  readonly joint: StageJoint;
  /** Width of the band along the edges that touches, the middle open [m]; the whole back when absent. */
  readonly frame?: Uncertain<Length>;
}

/** An edge of the die. */
export type Side = "lower" | "right" | "upper" | "left";

/** Wire bonds from the pads or the ring on the die to the ledge of the box. */
export interface Bonds {
  /** Metal, for example `"gold"`; a superconductor carries practically nothing far below T_c. */
  readonly material: string;
  /** How many, all alike, spread over the edges. */
  readonly count: number;
  /** Round wire [m]. Give this, or `width` and `thickness` of a ribbon. */
  readonly diameter?: Uncertain<Length>;
  /** Ribbon [m]. */
  readonly width?: Uncertain<Length>;
  /** Ribbon [m]. */
  readonly thickness?: Uncertain<Length>;
  /** Along the wire from foot to foot [m]. */
  readonly length: Uncertain<Length>;
  /** Purity: resistivity warm over residual, above 1. */
  readonly residualResistivityRatio?: UncertainPurity;
  /** Electrical resistance of each of the two feet [Ω]; 0 when absent. */
  readonly footResistance?: Uncertain<Resistance>;
  /** Radius of the foot where heat enters a film [m]; the wire's diameter when absent. */
  readonly footRadius?: Uncertain<Length>;
  /** Bonds on each pad; 1 when absent. */
  readonly perPad?: number;
  /** Least distance from one pad to the next along an edge [m]; a pad's width and a half when absent. */
  readonly pitch?: Uncertain<Length>;
  /** `"spread"` evenly along their edges (default), or in a `"row"` at the pitch, in the middle. */
  readonly arrangement?: "spread" | "row";
  /**
   * Edges of the die that carry bonds: a list of them by name, or 1 (the lower), 2 (lower and upper),
   * 3 (and the left) or 4 (default). Lower and upper are sides of the die's width.
   */
  readonly edges?: 1 | 2 | 3 | 4 | readonly Side[];
}

/** A metal film on a surface. */
export interface Plating {
  /** Material, by its name in the catalogue. */
  readonly material: string;
  /** Thickness [m]. */
  readonly thickness: Uncertain<Length>;
  /** Purity: resistivity warm over residual, above 1. */
  readonly residualResistivityRatio?: UncertainPurity;
}

/** Where the far feet of the bonds stand: the box beside the die. */
export interface Ledge {
  /** Plating under the feet; none when absent. */
  readonly plating?: Plating;
}

/** A clamp that presses on the die; it may lie over pads, and both then take heat there. */
export interface Clamp {
  /** Shown in the budget; `clamps` when absent. */
  readonly name?: string;
  /** Pair of faces of data/joints/pressed.csv, for example `"sapphire on copper"`. */
  readonly faces: string;
  /** On each clamp [N]. */
  readonly force: Uncertain<Force>;
  /** 1 when absent, or as many as there are places. */
  readonly count?: number;
  /** Middles of the clamps; from the corners on around the edges when absent. */
  readonly places?: readonly Place[];
  /** Side of the square of the die that a clamp covers [m]; 1 mm when absent. */
  readonly size?: Uncertain<Length>;
}

/** Glue under the die, down to the box, in square spots: as many as the count, or as there are places. */
export type Glue = UncertainFields<GlueJoint> & {
  /** Middles of the spots; spread over the die when absent. */
  readonly places?: readonly Place[];
};

/** The metal between the ledge and the bolts to the stage. */
export interface Box {
  /** Material, by its name in the catalogue. */
  readonly material: string;
  /** Purity: resistivity warm over residual, above 1. */
  readonly residualResistivityRatio?: UncertainPurity;
  /** Metal area that the heat crosses [m²]. */
  readonly crossSection: Uncertain<Area>;
  /** From the ledge to the bolts [m]. */
  readonly pathLength: Uncertain<Length>;
  /** Plating along that path, beside the metal; its width is how broad the plated faces are. */
  readonly plating?: Plating & {
    /** How broad the plated faces are together [m]. */
    readonly width: Uncertain<Length>;
  };
}

/** The bolted joint between box and stage. */
export type StageJoint =
  | {
      /** Pair of faces of data/joints/pressed.csv. */
      readonly faces: string;
      /** On each bolt [N]. */
      readonly force: Uncertain<Force>;
      /** Bolts; 1 when absent. */
      readonly count?: number;
    }
  | {
      /** Electrical resistance of the joint, measured cold [Ω]: the heat follows Wiedemann-Franz. */
      readonly resistance: Uncertain<Resistance>;
      /** Such joints side by side; 1 when absent. */
      readonly count?: number;
    }
  | {
      /** Measured thermal conductance at the temperature `at` [W/K]. */
      readonly conductance: Uncertain<Conductance>;
      /** Temperature at which the conductance was measured [K]. */
      readonly at: Uncertain<Temperature>;
      /** G ∝ Tⁿ; 1 when absent, as for metals. */
      readonly exponent?: Uncertain<number>;
      /** Such joints side by side; 1 when absent. */
      readonly count?: number;
    };

/** Where on the die a load falls; the sheet alone can tell. */
export type LoadMap =
  /** Evenly. */
  | {
      readonly kind: "uniform";
    }
  /** Evenly over a rectangle. */
  | {
      readonly kind: "rectangle";
      /** Left side, from the die's left edge [m]. */
      readonly left: Uncertain<Length>;
      /** Right side, from the die's left edge [m]. */
      readonly right: Uncertain<Length>;
      /** Lower side, from the die's lower edge [m]. */
      readonly bottom: Uncertain<Length>;
      /** Upper side, from the die's lower edge [m]. */
      readonly top: Uncertain<Length>;
    }
  /** A round Gaussian spot; `radius` is its standard deviation. */
  | {
      readonly kind: "spot";
      /** Middle, from the die's left edge [m]. */
      readonly x: Uncertain<Length>;
      /** Middle, from the die's lower edge [m]. */
      readonly y: Uncertain<Length>;
      /** Standard deviation of the spot [m]. */
      readonly radius: Length;
    }
  /** In proportion to one number for each pixel: rows from the lower edge up, pixels left to right. */
  | {
      readonly kind: "pixels";
      /** Pure numbers: only their ratios count, since the power is the load's. */
      readonly rows: readonly (readonly number[])[];
    };

/** What every load has. */
export interface LoadBase {
  /** Shown in the budget; the kind when absent. */
  readonly name?: string;
  /** What it falls on; the die when absent. */
  readonly on?: "die" | "box";
  /** Where on the die; evenly when absent. */
  readonly map?: LoadMap;
}

/** Readout tones: what part of them the resonators and lines turn into heat. */
export type ReadoutLoad = LoadBase & {
  readonly kind: "readout";
} & UncertainFields<Unnamed<ReadoutTones>> &
  (
    | {
        /**
         * Its internal quality falls as the chip warms, and the tones then heat more: the steady state
         * is found with the network.
         */
        readonly resonator: UncertainFields<ResonatorOptions>;
        /** Quality factor of its coupling to the line. */
        readonly couplingQuality: Uncertain<number>;
        /** In linewidths; 0 (on resonance) when absent. */
        readonly detuning?: Uncertain<number>;
      }
    | {
        /** Quality factor of its own losses. */
        readonly internalQuality: Uncertain<number>;
        /** Quality factor of its coupling to the line. */
        readonly couplingQuality: Uncertain<number>;
        /** In linewidths; 0 (on resonance) when absent. */
        readonly detuning?: Uncertain<number>;
      }
    | {
        /** Share of a tone's power that stays on the chip as heat, 0 to 1. */
        readonly dissipatedFraction: Uncertain<number>;
      }
  );

/** Light that the pixels absorb. */
export type OpticalLoad = LoadOf<"optical", Optical>;

/** Long-wave radiation that leaks in. */
export type InfraredLoad = LoadOf<"infrared", Infrared>;

/** Muons through the die, from the sky's mean flux. */
export type MuonLoad = {
  readonly kind: "muons";
  /** Shown in the budget; the kind when absent. */
  readonly name?: string;
  /** Through a horizontal face [1/(m² s)]; at sea level when absent. */
  readonly flux?: Uncertain<number>;
  /** Of the die from the horizontal [rad]; 0 when absent. */
  readonly tilt?: Uncertain<Angle>;
  /** n of the angle law cosⁿ of the zenith angle; 2 when absent, 0 for all directions alike. */
  readonly exponent?: Uncertain<number>;
  /** Momentum times the speed of light, for the stopping power [J]; that of least ionisation when absent. */
  readonly momentum?: Uncertain<Energy>;
  /** How the energy of single hits varies on a given path; `"none"` when absent. See `muonHits`. */
  readonly fluctuation?: MuonHits["fluctuation"];
};

/** Gammas and other background: hits of a rate and a mean energy or a spectrum, or heat by mass. */
export type BackgroundLoad = LoadBase & {
  readonly kind: "background";
} & (
    | {
        /** Hits a second [1/s]. */
        readonly rate: Uncertain<number>;
        /** Mean energy of a hit [J]; as single hits, all have it. */
        readonly energy: Uncertain<Energy>;
      }
    | {
        /** Hits a second [1/s]; the spectrum's own when absent. */
        readonly rate?: Uncertain<number>;
        /** Energies of the hits and how often each comes. */
        readonly spectrum: UncertainFields<EnergySpectrum>;
      }
    | {
        /** Of the die [W/kg]. */
        readonly powerPerMass: Uncertain<number>;
        /** How the heat is shared among hits; only single hits need it. */
        readonly spectrum?: UncertainFields<EnergySpectrum>;
      }
  );

/** Wires or supports from a warmer stage; on the die they touch its middle, or their `place`. */
export type ConductionLoad = Omit<LoadBase, "map"> & {
  readonly kind: "conduction";
  /** Material, by its name in the catalogue. */
  readonly material: string;
  /** 1 when absent. */
  readonly count?: number;
  /** From the warm end to the chip [m]. */
  readonly length: Uncertain<Length>;
  /** Of each, when round [m]. Give this, or the area. */
  readonly diameter?: Uncertain<Length>;
  /** Cross-section of each [m²]. Give this, or the diameter. */
  readonly area?: Uncertain<Area>;
  /** Purity: resistivity warm over residual, above 1. */
  readonly residualResistivityRatio?: UncertainPurity;
  /** Mean free path of phonons in a dielectric [m]; from the shape when absent. */
  readonly meanFreePath?: Uncertain<Length>;
  /** Which of the catalogue's samples of it, by name. */
  readonly sample?: string;
  /** Temperature of the warm end [K]. */
  readonly from: Uncertain<Temperature>;
  /** Where it touches the die. */
  readonly place?: Place;
};

/** Photons of a band of the night sky, and of a star: see `nightSky`. */
export type SkyLoad = LoadOf<"sky", NightSky>;
/** Millimetre and submillimetre waves of the sky: see `millimetre`. */
export type MillimetreLoad = LoadOf<"millimetre", Millimetre>;
/** A warm body seen through filters: see `radiation`. */
export type RadiationLoad = LoadOf<"radiation", Radiation>;
/** A lamp or laser: see `lamp`. */
export type LampLoad = LoadOf<"lamp", Lamp>;
/** Wires sunk at stages on the way, of which the coldest is the box's or the die's: see `wiring`. */
export type WiringLoad = Omit<LoadBase, "map"> & {
  readonly kind: "wiring";
} & UncertainFields<Omit<Wiring, "name">>;

/** A load given in watts. */
export type GivenLoad = LoadBase & {
  readonly kind: "given";
  /** Power [W]. */
  readonly power: Uncertain<Power>;
};

/** Anything that brings heat, told apart by `kind`. */
export type MountLoad =
  | ReadoutLoad
  | OpticalLoad
  | InfraredLoad
  | MuonLoad
  | BackgroundLoad
  | ConductionLoad
  | SkyLoad
  | MillimetreLoad
  | RadiationLoad
  | LampLoad
  | WiringLoad
  | GivenLoad;

/**
 * How warm the chip may become: above the stage, absolutely, or as warm as leaves a wanted quality
 * factor or no more than a density of thermal quasiparticles.
 */
export type Limit =
  | {
      /** Highest temperature above the stage [K]. */
      readonly rise: Uncertain<Temperature>;
    }
  | {
      /** Highest temperature [K]. */
      readonly temperature: Uncertain<Temperature>;
    }
  | {
      /** Lowest internal quality factor that will do. */
      readonly quality: Uncertain<number>;
      /** The resonator whose quality it is. */
      readonly resonator: UncertainFields<ResonatorOptions>;
    }
  | {
      /** Highest density [1/m³], or such as `"10 1/um^3"`. */
      readonly quasiparticleDensity: Uncertain<QuasiparticleDensity>;
      /** The superconductor in which the density is counted. */
      readonly superconductor: UncertainFields<ResonatorOptions>["superconductor"];
    };

/** A stage whose temperature follows from the heat it must take. */
export type CoolingStage =
  /** Measured: points of temperature and power, or a CSV with those columns. */
  | {
      /** Points of temperature [K] and power [W]. */
      readonly coolingCurve: UncertainFields<Unnamed<CoolingCurve>>;
    }
  /** A dilution refrigerator by its circulation. */
  | {
      /** The circulation of a dilution refrigerator. */
      readonly dilution: UncertainFields<Unnamed<Dilution>>;
    }
  /** A demagnetised salt held at a temperature, for as long as its entropy lasts. */
  | {
      /** The salt and its field. */
      readonly demagnetisation: UncertainFields<SaltOptions>;
    };

/** A chip in its box on its stage. */
export interface Mount {
  /** Its name, over the budget and the figures. */
  readonly name: string;
  /** The chip itself. */
  readonly die: Die;
  /** Bonds stand on pads or on a ring. */
  readonly pads?: Pads;
  /** A closed band of metal that takes the place of pads. */
  readonly ring?: Ring;
  /** Wire bonds from the die to the ledge; none when absent. */
  readonly bonds?: Bonds;
  /** Where the bonds end; bare metal of the box when absent. */
  readonly ledge?: Ledge;
  /** Clamps that press on the die; none when absent. */
  readonly clamps?: readonly Clamp[];
  /** Glue under the die; none when absent. */
  readonly glue?: Glue;
  /** Metal on the back of the die, pressed on the box; none when absent. */
  readonly back?: Back;
  /** The metal between the ledge and the stage. */
  readonly box: Box;
  /** The bolted joint between box and stage. */
  readonly joint: StageJoint;
  /** Temperature of the stage, or how it is cooled. */
  readonly stage: Uncertain<Temperature> | CoolingStage;
  /** All that brings heat. */
  readonly loads: readonly MountLoad[];
  /** How warm the chip may become; nothing is judged when absent. */
  readonly limit?: Limit;
}
