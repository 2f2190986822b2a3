/** How much room there is: everything beside the plan, three columns, or one column under it. */
type SheetShape = "wide" | "tablet" | "phone";

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Where everything of one sheet stands, in CSS px. */
export interface SheetLayout {
  readonly shape: SheetShape;
  readonly width: number;
  readonly height: number;
  readonly plan: Box;
  /** The fall of the CoP under the plan, on its own width. */
  readonly copFall: Box;
  /** The other columns, left to right. */
  readonly columns: readonly Box[];
  /** First and last pixel of time. */
  readonly fallTop: number;
  readonly fallBottom: number;
  /** Left edge of the event lines, and right edge where the ruler's handle begins. */
  readonly lineLeft: number;
  readonly lineRight: number;
  /** Room for event names left of the plan; 0: they stand on their lines. */
  readonly eventNames: number;
}

const EVENT_NAMES_PX = 100;
/** Room for the ruler's handle at the right edge. */
const HANDLE_PX = 30;
const HEAD_PX = 34;
/** Room for the number at the peak of the last column. */
const LAST_LABEL_PX = 58;

const shapeOfWidth = (width: number): SheetShape => (width >= 860 ? "wide" : width >= 640 ? "tablet" : "phone");

/** How many columns besides the CoP's fall a sheet of this width shows at once. */
export function columnRoom(width: number): number {
  return { wide: 5, tablet: 3, phone: 1 }[shapeOfWidth(width)];
}

/** What a column asks for: its share of the width, and the space before it, px. */
export interface ColumnRoom {
  readonly share: number;
  readonly gapPx: number;
}

/**
 * Where plan, fall and columns stand on a sheet.
 * @param widthPx  width of the sheet
 * @param columns  the columns to show; on a phone the one that replaces the CoP's fall, or none
 * @param leastPlanPx  least height of the plan, so that the reading beside it has room
 */
export function sheetLayout(widthPx: number, columns: readonly ColumnRoom[], leastPlanPx = 0): SheetLayout {
  const shape = shapeOfWidth(widthPx);
  if (shape === "phone") return phoneLayout(widthPx, columns);
  const isWide = shape === "wide";
  const eventNames = isWide ? EVENT_NAMES_PX : 0;
  const planWidth = isWide ? Math.round(Math.min(290, widthPx * 0.26)) : Math.round(widthPx * 0.42);
  const planHeight = Math.max(320, leastPlanPx);
  const fallTop = planHeight + HEAD_PX;
  const fallBottom = fallTop + (isWide ? 440 : 460);
  const lineRight = widthPx - HANDLE_PX;
  const first = eventNames + planWidth;
  const gaps = columns.reduce((sum, { gapPx }) => sum + gapPx, 0);
  const total = columns.reduce((sum, { share }) => sum + share, 0);
  const pxPerShare = (lineRight - first - gaps - LAST_LABEL_PX) / total;
  let x = first;
  const boxes = columns.map(({ share, gapPx }) => {
    x += gapPx;
    const box = { x, y: fallTop, width: share * pxPerShare, height: fallBottom - fallTop };
    x += box.width;
    return box;
  });
  const plan = { x: eventNames, y: 0, width: planWidth, height: planHeight };
  return {
    shape,
    width: widthPx,
    height: fallBottom + 14,
    plan,
    copFall: { ...plan, y: fallTop, height: fallBottom - fallTop },
    columns: boxes,
    fallTop,
    fallBottom,
    lineLeft: eventNames,
    lineRight,
    eventNames,
  };
}

function phoneLayout(widthPx: number, columns: readonly ColumnRoom[]): SheetLayout {
  const planHeight = 318;
  const fallTop = planHeight + (columns.length > 0 ? 84 : HEAD_PX);
  const fallBottom = fallTop + 430;
  const lineRight = widthPx - HANDLE_PX;
  const plan = { x: 0, y: 0, width: lineRight, height: planHeight };
  const fall = { ...plan, y: fallTop, height: fallBottom - fallTop };
  // Event names stand on the left of their lines: the column leaves them room.
  const namesPx = 120;
  const column = { ...fall, x: namesPx, width: lineRight - namesPx - 58 };
  return {
    shape: "phone",
    width: widthPx,
    height: fallBottom + 14,
    plan,
    copFall: fall,
    columns: columns.length > 0 ? [column] : [],
    fallTop,
    fallBottom,
    lineLeft: 0,
    lineRight,
    eventNames: 0,
  };
}
