/** Small pictures drawn for this trade. They always stand beside their word, so readers aloud skip them. */

const Picture = ({ children, wide }) => (
  <svg class="picture" viewBox={wide ? '0 0 36 24' : '0 0 24 24'} aria-hidden="true" focusable="false">
    {children}
  </svg>
);

/** A stiff fish with frost on it. */
export const HardFish = () => (
  <Picture wide>
    <path d="M9 13c5-7 16-7 23 0-7 7-18 7-23 0zM9 13 3 8v10zM24 9q-2 4 0 8" />
    <path class="dot" d="M27 11h1.5v1.5H27z" />
    <path d="M11 1v5M8.8 2.2l4.4 2.6M13.2 2.2 8.8 4.8M27 1v4M25.3 2l3.4 2M28.7 2l-3.4 2" class="thin" />
  </Picture>
);

/** A fish that sags and drips. */
export const SoftFish = () => (
  <Picture wide>
    <path d="M9 8c6-6 18-5 22 8-8 5-19 2-22-8zM9 8 4 3l-1 9zM24 6q-3 4-1 12" />
    <path class="dot" d="M26.5 11H28v1.5h-1.5z" />
    <path d="M11 16v2M16 19v2M3 23h29" />
  </Picture>
);

export const Sun = () => (
  <Picture>
    <circle cx="12" cy="12" r="4.5" />
    <path d="M12 1.5v3M12 19.5v3M1.5 12h3M19.5 12h3M4.6 4.6l2.1 2.1M17.3 17.3l2.1 2.1M4.6 19.4l2.1-2.1M17.3 6.7l2.1-2.1" />
  </Picture>
);

export const Moon = () => (
  <Picture>
    <path d="M15 3a9.5 9.5 0 1 0 6 13A8 8 0 0 1 15 3z" />
  </Picture>
);

/** A tree that throws shade on a carton. */
export const Shade = () => (
  <Picture>
    <path d="M1 10C2 3 14 1 17 8c2 0 3 1 3 3H2zM9 11v11M1 22h22M14 16h7v6h-7z" />
  </Picture>
);

/** A minibus with cartons tied on its roof. */
export const Roof = () => (
  <Picture wide>
    <path d="M2 19V11h25l5 4v4zM7 11v4h20M16 11v4M7 4h7v5H7zM16 4h7v5h-7zM4 9.5h22M7 6.5h16" />
    <circle cx="9" cy="19.5" r="2.5" class="paper" />
    <circle cx="26" cy="19.5" r="2.5" class="paper" />
  </Picture>
);

/** A car with a carton behind the seats. */
export const Cabin = () => (
  <Picture wide>
    <path d="M2 18v-6l5-7h16l6 7 5 2v4zM16 5v7M7 12h22" />
    <path d="M7.5 8.5h6v4.5h-6z" class="filled" />
    <circle cx="9" cy="18.5" r="3" class="paper" />
    <circle cx="28" cy="18.5" r="3" class="paper" />
  </Picture>
);

/** A lorry with cartons in its closed body. */
export const Hold = () => (
  <Picture wide>
    <path d="M1 18V4h22v14zM23 9h6l5 5v4H23z" />
    <path d="M4 11h7v6H4zM13 11h7v6h-7z" class="filled" />
    <circle cx="8" cy="19" r="2.5" class="paper" />
    <circle cx="28" cy="19" r="2.5" class="paper" />
  </Picture>
);

/** A chest freezer with its lid up. */
export const Freezer = () => (
  <Picture>
    <path d="M2 10h20v11H2zM2 10 5 3h17M6 14v3M4.5 15.5h3M15 14v3M13.5 15.5h3" />
  </Picture>
);

/** A carton in section: board, shavings, fish in the middle. */
export const Carton = () => (
  <Picture>
    <path d="M2 6h20v16H2zM2 6l3-4M22 6l-3-4" />
    <path d="M8 11h8v6H8z" class="filled" />
    <path d="M4.5 9.5q1 1 2 0M10 8.5q1 1 2 0M17 9q1 1 2 0M4.5 15q1 1 2 0M18 14q1 1 2 0M5 20q1 1 2 0M11 19.5q1 1 2 0M17 20q1 1 2 0" class="thin" />
  </Picture>
);

/** Curls of wood. */
export const Shavings = () => (
  <Picture>
    <path d="M2 7c4-5 8 1 4 3M10 4c5-3 8 3 4 4M3 17c1-6 9-5 8 0s-6 2-4-1M14 18c0-7 9-6 8 0M16 11c3-2 6 0 5 2" />
  </Picture>
);

export const Bag = () => (
  <Picture>
    <path d="M5 8c-2 4-3 14 1 14h12c4 0 3-10 1-14zM8 2l4 6 4-6M8 8h8" />
  </Picture>
);

/** Rope tied both ways round a carton. */
export const Rope = () => (
  <Picture>
    <path d="M2 6h20v15H2z" />
    <path d="M12 6v15M2 13.5h20M12 6 8 2M12 6l4-4" class="thick" />
  </Picture>
);

/** A paper label with a string. */
export const Label = () => (
  <Picture>
    <path d="M8 5h14v14H8l-6-7zM11 10h8M11 14h6" />
    <path class="dot" d="M6 11h2v2H6z" />
  </Picture>
);

export const Thermometer = () => (
  <Picture>
    <path d="M10 3h4v11a5 5 0 1 1-4 0zM17 5h3M17 9h3" />
    <circle cx="12" cy="18" r="2" class="filled" />
  </Picture>
);

/** A mast; without a signal it is struck through. */
export const Mast = ({ silent }) => (
  <Picture>
    <path d="M12 9 7 22M12 9l5 13M9 17h6M12 9v.1" />
    {silent ? <path d="M3 3l18 18" class="thick" /> : <path d="M7 9a6 6 0 0 1 0-6M17 9a6 6 0 0 0 0-6" />}
  </Picture>
);

/** Somebody with a wrap round her head. */
export const Person = () => (
  <Picture>
    <path d="M8 8.5a4 4.5 0 0 0 8 0M7 8.5C6 3 9 1.5 12 1.5S18 3 17 8.5zM3 22.5c0-6 3-8.5 9-8.5s9 2.5 9 8.5z" />
  </Picture>
);

/** Three who trade together. */
export const People = () => (
  <Picture wide>
    <path d="M15 8a3 3.5 0 0 0 6 0M14.5 8c-.5-4 1-5.5 3.5-5.5S22 4 21.5 8zM11 21.5c0-6 2.5-8 7-8s7 2 7 8z" />
    <path d="M5 11.5a2.5 3 0 0 0 5 0M4.5 11.5c-.5-3 1-4 3-4s3.5 1 3 4zM2 21.5c0-3.5 1.5-5.5 4.5-6M26 11.5a2.5 3 0 0 0 5 0M25.5 11.5c-.5-3 1-4 3-4s3.5 1 3 4zM34 21.5c0-3.5-1.5-5.5-4.5-6" />
  </Picture>
);

/** Coins in two heaps, of unlike height: what one owes and is owed. */
export const Coins = () => (
  <Picture>
    <path d="M2 18.5a4.5 2 0 0 0 9 0a4.5 2 0 0 0-9 0v2a4.5 2 0 0 0 9 0v-2" />
    <path d="M13 8.5a4.5 2 0 0 0 9 0a4.5 2 0 0 0-9 0v12a4.5 2 0 0 0 9 0v-12M13 12.5a4.5 2 0 0 0 9 0M13 16.5a4.5 2 0 0 0 9 0" />
  </Picture>
);

/** A padlock on a hasp. */
export const Lock = () => (
  <Picture>
    <path d="M5 10.5h14V22H5zM8 10.5V7a4 4.5 0 0 1 8 0v3.5M12 15v3.5" />
  </Picture>
);

/** A small phone with keys. */
export const Phone = () => (
  <Picture>
    <path d="M6 1.5h12v21H6zM8.5 4.5h7v6h-7zM9 14h.1M12 14h.1M15 14h.1M9 17h.1M12 17h.1M15 17h.1M9 20h.1M12 20h.1M15 20h.1" />
  </Picture>
);

/** Takes the last digit away. */
export const Back = () => (
  <Picture wide>
    <path d="M11 4h22v16H11L3 12zM17 9l8 6M25 9l-8 6" />
  </Picture>
);

/** Somebody's sign to take care. */
export const Care = () => (
  <Picture>
    <path d="M12 2 23 21H1zM12 9v6M12 17.5v1" />
  </Picture>
);

const RIDES = { roof: Roof, cabin: Cabin, hold: Hold, wait_shade: Shade, wait_sun: Sun };

/** What the carton stands in or on. @param {{where: string}} props */
export const Ride = ({ where }) => {
  const Drawn = RIDES[where] ?? Carton;
  return <Drawn />;
};
