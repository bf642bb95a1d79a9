/** Phonons between black and diffuse walls against published results for light and for thin gases. */
import type { FaceName, FlightOptions } from "../../src/chip/flights/box.js";
import type { FaceContact, FacePiece } from "../../src/chip/flights/face-contacts.js";
import { Flights } from "../../src/chip/flights/flights.js";
import { checkReference, type Inputs } from "./rows.js";

const faces = ["left", "right", "lower", "upper", "back", "front"] as const;
type Size = Pick<FlightOptions, "width" | "length" | "thickness">;

function whole({ width, length, thickness }: Size, face: FaceName): FacePiece {
  const upright = face !== "front" && face !== "back";
  const across = face === "left" || face === "right" ? length : width;
  return { face, left: 0, right: across, bottom: 0, top: upright ? thickness : length };
}

/** Share of the phonons from contact 0 that meet contact 1 first. */
function share(options: FlightOptions, contacts: readonly FaceContact[], area: number): number {
  const flights = new Flights(options, contacts);
  return (-flights.exchange().admittance[1]! * flights.unit) / area;
}

/** From face to face of a box with six black ones. */
function viewFactor(size: Size, from: FaceName, to: FaceName): number {
  const others = faces.filter((face) => face !== from && face !== to);
  const contacts = [from, to, ...others].map((name) => ({ name, area: whole(size, name) }));
  const { right, top } = whole(size, from);
  return share({ ...size, rays: 2 ** 26 }, contacts, right * top);
}

/** The strips lie on the back and on the left face of a box; all other places are black. */
function strips(inputs: Inputs): number {
  const [edge, from1, to1, from2, to2] = ["edge", "from1", "to1", "from2", "to2"].map((name) =>
    inputs.number(name),
  ) as [number, number, number, number, number];
  const size = { width: to1, length: edge, thickness: to2 };
  const on = (face: FaceName, from: number, to: number): FacePiece =>
    face === "back"
      ? { face, left: from, right: to, bottom: 0, top: edge }
      : { face, left: 0, right: edge, bottom: from, top: to };
  const rest = faces.slice(1, 4).concat("front");
  const contacts: FaceContact[] = [
    { name: "one", area: on("back", from1, to1) },
    { name: "other", area: on("left", from2, to2) },
    {
      name: "rest",
      area: [on("back", 0, from1), on("left", 0, from2), ...rest.map((face) => whole(size, face))],
    },
  ];
  return share({ ...size, rays: 2 ** 25 }, contacts, edge * (to1 - from1));
}

const ends = (size: Size) =>
  (["left", "right"] as const).map((name) => ({ name, area: whole(size, name) }));

/** Mirrors beside it repeat a piece of the slot without end. */
function slot(inputs: Inputs): number {
  const size = { width: inputs.number("length"), length: 1, thickness: 1 };
  return share({ ...size, rays: 2 ** 23, specularity: { lower: 1, upper: 1 } }, ends(size), 1);
}

/** Its ends are black, its walls diffuse. */
function duct(inputs: Inputs): number {
  const [thickness, length, width] = ["height", "width", "length"].map((name) =>
    inputs.number(name),
  ) as [number, number, number];
  const size = { width, length, thickness };
  return share({ ...size, rays: 2 ** 23 }, ends(size), length * thickness);
}

/**
 * Mean free path along a rod, ¾ W over the slope of the density in its middle half. Phonons come from as
 * far as the ends, which takes a share from it that falls as one over the rod's length.
 */
function casimirLength(inputs: Inputs): number {
  const side = inputs.number("side");
  const found = (length: number, rays: number) => {
    const size = { width: length, length: side, thickness: 1 };
    const flights = new Flights({ ...size, rays, cellsX: 32, cellsY: 1 }, ends(size));
    const density = flights.influences(0);
    let moment = 0;
    let square = 0;
    for (let c = 8; c < 24; c++) {
      const x = ((c - 15.5) / 32) * length;
      moment -= x * density[c]!;
      square += x * x;
    }
    const through = (-flights.exchange().admittance[1]! * flights.unit) / side;
    return (0.75 * through * square) / moment;
  };
  const [short, long] = [10, 20];
  return (
    (long * found(long * side, 2 ** 24) - short * found(short * side, 2 ** 24)) / (long - short)
  );
}

checkReference("flights.csv", {
  "view factor of parallel rectangles": (inputs) =>
    viewFactor(
      {
        width: inputs.number("width"),
        length: inputs.number("length"),
        thickness: inputs.number("gap"),
      },
      "back",
      "front",
    ),
  "view factor of perpendicular rectangles": (inputs) =>
    viewFactor(
      {
        width: inputs.number("width"),
        length: inputs.number("edge"),
        thickness: inputs.number("height"),
      },
      "back",
      "left",
    ),
  "view factor of perpendicular strips": strips,
  "transmission of a rectangular duct": duct,
  "transmission of a wide slot": slot,
  "Casimir length": casimirLength,
});
