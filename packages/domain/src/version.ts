/** Version of the code, stored with every result. Raised whenever a reported number changes. */
export const VERSION = "0.1.0";
