import {
  type FocusEvent,
  type KeyboardEvent,
  type ReactElement,
  type ReactNode,
  useEffect,
  useId,
  useRef,
} from "react";

interface LabelledProps {
  readonly label: string;
  /** Said under the field. */
  readonly hint?: ReactNode;
  readonly isRequired?: boolean;
  /** In a table whose heads say it to the eye. */
  readonly isLabelHidden?: boolean;
}

interface TypedProps extends LabelledProps {
  readonly type: "text" | "date" | "number";
  readonly shown: string;
  /** The typed text, once the person leaves the field or presses Enter. Not called where nothing changed. */
  readonly onTyped: (text: string) => void;
  readonly min?: number | undefined;
  readonly max?: number | undefined;
  readonly step?: number | "any" | undefined;
  readonly most?: number | undefined;
  readonly list?: string | undefined;
}

/** A field that gives what was typed when it is left: what is refused stays in it. */
function TypedField(props: TypedProps): ReactElement {
  const { label, hint, isRequired, isLabelHidden = false, type, shown, onTyped, most, ...rest } = props;
  const input = useRef<HTMLInputElement>(null);
  const hintId = useId();
  useEffect(() => {
    if (input.current !== null) input.current.value = shown;
  }, [shown]);
  const give = ({ currentTarget }: FocusEvent<HTMLInputElement> | KeyboardEvent<HTMLInputElement>): void => {
    const text = currentTarget.value.trim();
    if (text !== shown && currentTarget.reportValidity()) onTyped(text);
  };
  return (
    <label className="field">
      <span className={isLabelHidden ? "hidden" : undefined}>{label}</span>
      <input
        ref={input}
        type={type}
        defaultValue={shown}
        required={isRequired}
        maxLength={most}
        aria-describedby={hint === undefined ? undefined : hintId}
        onBlur={give}
        onKeyDown={(event) => event.key === "Enter" && give(event)}
        {...rest}
      />
      {hint === undefined ? null : (
        <span id={hintId} className="hint">
          {hint}
        </span>
      )}
    </label>
  );
}

export interface TextFieldProps extends LabelledProps {
  readonly value: string | undefined;
  /** undefined: the field was emptied. */
  readonly onValue: (value: string | undefined) => void;
  readonly type?: "text" | "date";
  readonly most?: number;
  readonly list?: string;
}

export function TextField({ value = "", onValue, type = "text", ...rest }: TextFieldProps): ReactElement {
  return <TypedField {...rest} type={type} shown={value} onTyped={(text) => onValue(text === "" ? undefined : text)} />;
}

export interface NumberFieldProps extends LabelledProps {
  readonly value: number | undefined;
  readonly onValue: (value: number | undefined) => void;
  readonly min?: number;
  readonly max?: number;
  readonly step?: number | "any";
}

export function NumberField({ value, onValue, step = "any", ...rest }: NumberFieldProps): ReactElement {
  return (
    <TypedField
      {...rest}
      step={step}
      type="number"
      shown={value === undefined ? "" : String(value)}
      onTyped={(text) => onValue(text === "" ? undefined : Number(text))}
    />
  );
}

export interface ChoiceFieldProps<V extends string> extends LabelledProps {
  readonly value: V | undefined;
  readonly choices: readonly (readonly [V, string])[];
  readonly onValue: (value: V) => void;
  /** What stands there while nothing is chosen. */
  readonly none?: string;
}

export function ChoiceField<V extends string>(props: ChoiceFieldProps<V>): ReactElement {
  const { label, hint, value, choices, onValue, none, isRequired, isLabelHidden = false } = props;
  return (
    <label className="field">
      <span className={isLabelHidden ? "hidden" : undefined}>{label}</span>
      <select value={value ?? ""} required={isRequired} onChange={(event) => onValue(event.target.value as V)}>
        {none === undefined ? null : <option value="">{none}</option>}
        {choices.map(([choice, word]) => (
          <option key={choice} value={choice}>
            {word}
          </option>
        ))}
      </select>
      {hint === undefined ? null : <span className="hint">{hint}</span>}
    </label>
  );
}

interface NotesFieldProps extends LabelledProps {
  readonly value: string | undefined;
  readonly onValue: (value: string | undefined) => void;
  readonly most: number;
}

/** Several lines. */
export function NotesField({ label, hint, value = "", onValue, most }: NotesFieldProps): ReactElement {
  const area = useRef<HTMLTextAreaElement>(null);
  useEffect(() => {
    if (area.current !== null) area.current.value = value;
  }, [value]);
  return (
    <label className="field wide">
      <span>{label}</span>
      <textarea
        ref={area}
        rows={2}
        maxLength={most}
        defaultValue={value}
        onBlur={({ currentTarget }) => {
          const text = currentTarget.value.trim();
          if (text !== value) onValue(text === "" ? undefined : text);
        }}
      />
      {hint === undefined ? null : <span className="hint">{hint}</span>}
    </label>
  );
}
