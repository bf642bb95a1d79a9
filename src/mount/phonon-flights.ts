/**
 * A die of flights by itself: what its contacts exchange, where its heat leaves and how warm it gets.
 * @module
 */

import type { SheetField } from "../chip/field.js";
import { type ByFace, type FaceName, faceNames } from "../chip/flights/box.js";
import { Flights } from "../chip/flights/flights.js";
import { standardError } from "../chip/flights/smooth-map.js";
import type { SourceDepth } from "../chip/flights/starts.js";
import { areaOf } from "../chip/grid.js";
import type { PowerMap } from "../chip/power-map.js";
import { phononRadiation } from "../joints/boundary.js";
import { standardCatalogue } from "../materials/standard.js";
import type { CatalogueChoice } from "../materials/types.js";
import { leftRanges, toldOutside } from "../ranges.js";
import { positive } from "../units/checks.js";
import { FieldError } from "../units/errors.js";
import { formatNumber, formatQuantity, formatShare, formatTemperature } from "../units/format.js";
import type { Length, Temperature } from "../units/quantity.js";
import { Result, type ResultContent } from "../units/result.js";
import type { Table } from "../units/table.js";
import { meanSpeed, radiationLaw } from "./things/die.js";

/** A contact of `phononFlights`: a rectangle on a face. */
export interface FlightContact {
  /** Name, used once. */
  readonly name: string;
  /** Which face it is on, the front when absent. */
  readonly face?: FaceName;
  /** Its left end [m]: along x, or on `left` and `right` along y. */
  readonly left: Length;
  /** Its right end [m]. */
  readonly right: Length;
  /** Its lower end [m]: along y, or on a side along the thickness from the back. */
  readonly bottom: Length;
  /** Its upper end [m]. */
  readonly top: Length;
  /** Share of what meets it that it takes, above 0 to 1; by `metal` when absent, or all. */
  readonly transmission?: number;
  /** Material on it, whose share follows by diffuse mismatch. */
  readonly metal?: string;
}

/** A die, its contacts and its heat. */
export interface PhononFlightsOptions extends CatalogueChoice {
  /** Material of the die, by its name in the catalogue. */
  readonly material: string;
  /** Along x [m]. */
  readonly width: Length;
  /** Along y [m]. */
  readonly length: Length;
  /** Along z [m]. */
  readonly thickness: Length;
  /** Share of mirror reflection, of all faces or of each, 0 to 1; 0 when absent. */
  readonly specularity?: ByFace;
  /** Mean length between scatterings inside the die [m]; none when absent. */
  readonly bulkLength?: Length;
  /** Where heat comes from; 1 nW evenly when absent. */
  readonly heat?: PowerMap;
  /** Where it becomes phonons: in films on the `"front"` (default), or in the `"bulk"`. */
  readonly depth?: SourceDepth;
  /** At least one. */
  readonly contacts: readonly FlightContact[];
  /** Temperature at which all contacts are held [K]; 0.1 K when absent. */
  readonly temperature?: Temperature;
  /** Phonons flown from the heat source, 65536 when absent. */
  readonly rays?: number;
  /** Seed of the random numbers, 1 when absent. */
  readonly seed?: number;
}

/** One contact of a die of flights. */
export interface FlightShare {
  /** Name of the contact. */
  readonly name: string;
  /** Share of what meets it that it takes. */
  readonly transmission: number;
  /** Of the heat, what leaves there. */
  readonly share: number;
  /** Standard error of the share. */
  readonly error: number;
}

/** What phonons in flight do in a die. */
export class PhononFlights extends Result {
  declare readonly name: string;
  /** By contact. */
  declare readonly contacts: readonly FlightShare[];
  /** Heat from contact i to contact j over T⁴, row by row, for i ≠ j [W/K⁴]; symmetric, rows sum to 0. */
  declare readonly exchange: readonly (readonly number[])[];
  /** Their standard errors [W/K⁴]. */
  declare readonly exchangeErrors: readonly (readonly number[])[];
  /** The temperature of every place. */
  declare readonly field: SheetField;
  /** Standard error of the temperature of the hottest point [K]. */
  declare readonly temperatureError: number;
  /** From where phonons start to where they are first met by a contact, in the mean [m]. */
  declare readonly meanPath: number;
  /** Its standard error [m]. */
  declare readonly meanPathError: number;
  /** The same [s]. */
  declare readonly meanTime: number;
  /** Flights from face to face until then, in the mean. */
  declare readonly flights: number;
  /** Phonons flown from the heat source. */
  declare readonly rays: number;

  /** @internal Made by `phononFlights`. */
  constructor(content: ResultContent<PhononFlights>) {
    super(content);
  }

  protected get answer(): string {
    const { field, temperatureError, meanPath, meanTime, flights, rays } = this;
    const { x, y, temperature } = field.hottest;
    return (
      `The die reaches ${formatTemperature(temperature)} ± ${formatQuantity(temperatureError, "K")} at ` +
      `x = ${formatQuantity(x, "m")}, y = ${formatQuantity(y, "m")}. ` +
      `${formatNumber(rays, 5)} phonons flew ${formatNumber(flights, 3)} times from face to face in the ` +
      `mean, ${formatQuantity(meanPath, "m")} or ${formatQuantity(meanTime, "s")}, until a contact was met.`
    );
  }

  protected tables(): readonly Table[] {
    return [
      {
        title: "Contacts",
        columns: ["contact", "transmission", "share of the heat", "± of it"],
        numbersFrom: 1,
        rows: this.contacts.map(({ name, transmission, share, error }) => [
          name,
          formatShare(transmission),
          formatShare(share),
          formatShare(error),
        ]),
      },
    ];
  }
}

/**
 * Phonons that fly in a die from face to face, as they do below about 1 K: what contacts exchange, which
 * share of the heat leaves at each, how warm every place gets, and how long a phonon flies.
 *
 * Valid where phonons scatter at the faces or over one given length, below about 3 K, in a die thicker
 * than their wavelength, h v/(2.8 k_B T). All numbers carry their statistical error.
 * Sources: T. Klitsner, J. E. VanCleve, H. E. Fischer and R. O. Pohl, Phonon radiative heat transfer and
 * surface scattering, Phys. Rev. B 38, 7576 (1988); H. B. G. Casimir, Physica 5, 495 (1938).
 * @throws FieldError or UnknownNameError naming a wrong field
 */
export function phononFlights(options: PhononFlightsOptions): PhononFlights {
  const { catalogue = standardCatalogue(), material, heat, depth = "front" } = options;
  const length = (name: string, value: Length) => positive(name, value, "length");
  const speeds = catalogue.material(material, "material").soundSpeeds();
  const radiation = phononRadiation(speeds);
  const contacts = options.contacts.map((contact, i) => placed(contact, `contacts[${i}]`));
  const transmissions = options.contacts.map(({ transmission, metal }, i) => {
    if (transmission !== undefined) return transmission;
    if (metal === undefined) return 1;
    const other = phononRadiation(catalogue.material(metal, `contacts[${i}].metal`).soundSpeeds());
    return other / (radiation + other);
  });
  const { specularity, bulkLength, rays, seed } = options;
  const flights = new Flights(
    {
      width: length("width", options.width),
      length: length("length", options.length),
      thickness: length("thickness", options.thickness),
      ...(specularity !== undefined && { specularity }),
      ...(bulkLength !== undefined && { bulkLength: length("bulkLength", bulkLength) }),
      ...(rays !== undefined && { rays }),
      ...(seed !== undefined && { seed }),
    },
    contacts,
  );
  const [dieWidth, dieLength, thickness] = flights.box.sides as unknown as [number, number, number];
  const law = radiationLaw(speeds, { width: dieWidth, length: dieLength, thickness });
  const exchange = flights.exchange(transmissions);
  const map: PowerMap = heat ?? { kind: "uniform", power: 1e-9 };
  const source = flights.source(map, "heat", depth);
  const body = flights.body(law, map, exchange, depth);
  const held = positive("temperature", options.temperature ?? 0.1, "temperature");
  const temperatures = contacts.map(() => held);
  const field = flights.field(body, temperatures);
  const power = body.outflow.reduce((sum, each) => sum + each, 0);
  const shards = source.shards.map((met) => exchange.outflow(met));
  // Held contacts take any heat.
  const scatter = flights.scatter(
    body,
    temperatures,
    contacts.map(() => 0),
    field.hottestWeights,
  );
  const inRows = (matrix: Float64Array) =>
    contacts.map((_, i) =>
      Array.from(matrix.subarray(i * contacts.length, (i + 1) * contacts.length), (entry) =>
        entry === 0 ? 0 : entry * radiation * flights.unit,
      ),
    );
  return new PhononFlights({
    name: `Flights in ${material}`,
    contacts: contacts.map(({ name }, i) => ({
      name,
      transmission: transmissions[i]!,
      share: power > 0 ? body.outflow[i]! / power : 0,
      error: standardError(shards.map((each) => each[i]!)),
    })),
    exchange: inRows(exchange.admittance),
    exchangeErrors: inRows(flights.exchangeErrors(transmissions)),
    field,
    temperatureError: standardError(scatter) / law.conductance(field.hottest.temperature),
    meanPath: source.meanPath,
    meanPathError: source.meanPathError,
    meanTime: source.meanPath / meanSpeed(speeds),
    flights: source.flights,
    rays: source.rays,
    warnings: toldOutside(
      leftRanges([{ name: "flights", law, used: [held, field.hottest.temperature] }]),
    ),
    provenance: speeds.provenance,
  });
}

/** A contact in metres. */
function placed({ name, face = "front", left, right, bottom, top }: FlightContact, field: string) {
  if (!faceNames.includes(face)) {
    throw new FieldError(`${field}.face`, `one of ${faceNames.join(", ")}`, face);
  }
  const at = (end: string, value: Length) =>
    value === 0 ? 0 : positive(`${field}.${end}`, value, "length");
  const area = {
    face,
    left: at("left", left),
    right: at("right", right),
    bottom: at("bottom", bottom),
    top: at("top", top),
  };
  if (!(areaOf(area) > 0)) {
    throw new FieldError(
      field,
      "a rectangle whose right is above its left and top above its bottom",
      area,
    );
  }
  return { name, area };
}
