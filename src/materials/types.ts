/**
 * What a material can be asked.
 * @module
 */
import type { Backing, Powers, TemperatureRange } from "../conductor.js";
import type { Provenance } from "../provenance.js";
import type { Temperature } from "../units/quantity.js";
import type { ConductivityOptions, HeatCapacityOptions } from "./options.js";

/** One number of the catalogue, in SI, with its source. */
export interface Datum {
  /** In SI. */
  readonly value: number;
  /** Where the number comes from. */
  readonly provenance: Provenance;
}

/** κ(T) of one sample of a material. */
export interface Conductivity extends Powers, Required<Backing> {
  /**
   * κ(T) [W/(m K)]
   * @throws RangeError outside the law's range, where no valid extrapolation exists
   */
  at(temperature: number): number;
  /**
   * The heat a strip carries from T₂ to T₁ per unit area over length, ∫ κ dT [W/m].
   * @throws RangeError outside the law's range, where no valid extrapolation exists
   */
  between(cold: number, hot: number): number;
  /**
   * The same law without the check, extrapolated smoothly outside its range so that a solver's trial
   * temperatures don't fail; compare the solution's temperatures with `ranges`.
   */
  readonly law: {
    /** κ [W/(m K)] */
    value(temperature: number): number;
    /** ∫₀ᵀ κ dT up to a constant [W/m] */
    integral(temperature: number): number;
  };
}

/** C(T) of a material, per volume. */
export interface HeatCapacity extends Powers, Required<Backing> {
  /** C(T) [J/(m³ K)] */
  value(temperature: number): number;
  /** ∫₀ᵀ C dT [J/m³], up to a constant. */
  enthalpy(temperature: number): number;
}

/** Electrons to phonons in a metal film: P = Σ V (Tₑⁿ − Tₚⁿ). */
export interface ElectronPhononCoupling extends Required<Backing> {
  /** Σ [W/(m³ Kⁿ)] */
  readonly coefficient: number;
  /** n, 5 for a clean bulk metal */
  readonly exponent: number;
}

/** Speeds of sound averaged over direction. */
export interface SoundSpeeds {
  /** Of longitudinal waves [m/s]. */
  readonly longitudinal: number;
  /** Of transverse waves [m/s]. */
  readonly transverse: number;
  /** Sources of the numbers that enter. */
  readonly provenance: readonly Provenance[];
}

/** A sample of a material's thermal conductivity. */
export interface ConductivitySampleInfo {
  /** The sample's name. */
  readonly sample: string;
  /** Options that must be given. */
  readonly needs: readonly ("residualResistivityRatio" | "meanFreePath")[];
  /** Lowest temperature at which its laws hold [K]. */
  readonly from: number;
  /** Highest temperature at which its laws hold [K]. */
  readonly to: number;
}

/** One material of the catalogue. */
export interface Material {
  /** Its name, as results and messages show it. */
  readonly name: string;
  /** Properties on hand, with the samples of each. */
  readonly properties: ReadonlyMap<string, readonly string[]>;
  /** Samples of its thermal conductivity, with the options that each needs and its range. */
  readonly conductivitySamples: readonly ConductivitySampleInfo[];
  /**
   * κ(T).
   * @param field - path of the options in the user's description, for errors; the material's name
   * @throws FieldError when an option is missing, wrong, or more than one sample fits (listing them)
   */
  thermalConductivity(options?: ConductivityOptions, field?: string): Conductivity;
  /**
   * C(T) per volume: γT of the electrons, less below T_c, and βT³ of the phonons; or a measured law.
   * @param field - path of the options in the user's description, for errors; the material's name
   * @throws FieldError naming the number that is missing, or the option that is wrong
   */
  heatCapacity(options?: HeatCapacityOptions, field?: string): HeatCapacity;
  /** Electron-phonon coupling of the metal. @throws FieldError as above */
  electronPhononCoupling(sample?: string): ElectronPhononCoupling;
  /**
   * Speeds of longitudinal and transverse sound [m/s].
   * @throws FieldError when the catalogue has none
   */
  soundSpeeds(sample?: string): SoundSpeeds;
  /** Electrical resistivity of the pure metal at a warm temperature [Ω m]. */
  warmResistivity(temperature: Temperature): Datum;
  /** A property that is one number, such as `density`. @throws FieldError when it is not on hand */
  constant(property: string, sample?: string): Datum;
}

/** One law of a joint or a load: its named parameters, where it holds and where it is from. */
export interface LawRecord {
  /** Which property it gives. */
  readonly property: string;
  /** Name of the law. */
  readonly form: string;
  /** The sample's name. */
  readonly sample: string;
  /** Numbers of the law, by name, in SI. */
  readonly parameters: ReadonlyMap<string, Datum>;
  /** Temperatures at which it holds. */
  readonly range: TemperatureRange;
  /** Sources of the numbers that enter. */
  readonly provenance: readonly Provenance[];
}

/** A row, or a table or fit of several, with its uncertainty. */
export interface VariedRow {
  /** Folder, file and line of its first row: `materials/gold.csv:5`. */
  readonly key: string;
  /** What it is, for example `gold: electron-phonon coupling, coefficient`. */
  readonly quantity: string;
  /** In SI; 1 for a table or fit, which is varied as a whole. */
  readonly value: number;
  /** Unit of the value. */
  readonly unit: string;
  /** About 90 % of what it may be lies within this factor either way, above 1. */
  readonly factor: number;
  /** Author, title, journal, year. */
  readonly source: string;
}

/** Where the data come from. */
export interface CatalogueChoice {
  /** Data of the materials; the standard catalogue when absent. */
  readonly catalogue?: Catalogue;
}

/** Every material, joint and load the library has numbers for. */
export interface Catalogue {
  /** Names of the materials. */
  readonly materials: readonly string[];
  /**
   * The material of this name, which is that of its file.
   * @throws UnknownNameError listing the known names and the nearest
   */
  material(name: string, field?: string): Material;
  /** Laws of a kind of joint (`data/joints/KIND.csv`) or load (`data/loads/KIND.csv`). */
  laws(folder: "joints" | "loads", kind: string): readonly LawRecord[];
  /**
   * A catalogue with one more material, or one replaced, from a CSV text in the catalogue's columns.
   * `sources` may add rows to sources.csv for publications it does not know.
   * @throws FieldError naming file, line and column
   */
  withMaterial(name: string, csv: string, sources?: string): Catalogue;
  /**
   * A catalogue with more laws of a kind of joint or load, from a CSV text in the catalogue's columns; a
   * law of the same property and sample is replaced, a new kind begun.
   * @throws FieldError naming file, line and column
   */
  withLaws(folder: "joints" | "loads", kind: string, csv: string, sources?: string): Catalogue;
  /** Every row, table and fit that has an uncertainty on file. */
  rows(): readonly VariedRow[];
  /**
   * A catalogue with some of those rows larger by a factor, and with them every result that uses them.
   * @param factors - by key of the row
   * @throws FieldError for an unknown row, or a factor that is not greater than 0
   */
  withFactors(factors: ReadonlyMap<string, number>): Catalogue;
  /**
   * The same catalogue, which reports the rows that a computation reads: those that its result depends
   * on. A law is read when it is made, so a conductivity that was made before reports nothing.
   * @param note - called with the key of each row of `rows()` that is read
   */
  watched(note: (row: string) => void): Catalogue;
  /** What it was read from; plain data, from which `catalogueFrom` makes it again. */
  readonly origin: CatalogueOrigin;
}

/** What a catalogue was made of. */
export interface CatalogueOrigin {
  /** Texts of the data folder. */
  readonly files: CatalogueFiles;
  /** Materials, and laws of joints and loads, added or replaced, in order. */
  readonly added: readonly {
    /** Which folder it belongs to. */
    readonly folder: "materials" | "joints" | "loads";
    /** Name of the file, without its ending. */
    readonly name: string;
    /** Its text. */
    readonly csv: string;
    /** Rows of sources.csv that it needs. */
    readonly sources?: string;
  }[];
  /** Factors on rows, by key. */
  readonly factors: readonly (readonly [row: string, factor: number])[];
}

/** The text of the catalogue's files, as read from data/ or carried by a page. */
export interface CatalogueFiles {
  /** Text of sources.csv. */
  readonly sources: string;
  /** By material name. */
  readonly materials: Readonly<Record<string, string>>;
  /** By kind. */
  readonly joints: Readonly<Record<string, string>>;
  /** By kind. */
  readonly loads: Readonly<Record<string, string>>;
}
