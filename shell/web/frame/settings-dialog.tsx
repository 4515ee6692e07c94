import { THEMES, UNIT_GROUPS } from '../look/preferences.ts';
import { changePreferences, usePreferences } from '../look/use-preferences.ts';
import { Dialog } from './dialog.tsx';

/** Light of the place, and units per group of quantities. */
export function SettingsDialog({ close }: { readonly close: () => void }) {
  const { theme, units } = usePreferences();
  return (
    <Dialog title="Light and units" close={close}>
      <fieldset>
        <legend>Light</legend>
        {THEMES.map((name) => (
          <label className="check" key={name}>
            <input
              type="radio"
              name="theme"
              checked={theme === name}
              onChange={() => changePreferences((former) => ({ ...former, theme: name }))}
            />
            {name}
          </label>
        ))}
      </fieldset>
      {UNIT_GROUPS.map((group) => (
        <fieldset key={group} className="unit-group">
          <legend>{group}</legend>
          {(['metric', 'imperial'] as const).map((system) => (
            <label className="check" key={system}>
              <input
                type="radio"
                name={`units ${group}`}
                checked={units[group] === system}
                onChange={() =>
                  changePreferences((former) => ({ ...former, units: { ...former.units, [group]: system } }))
                }
              />
              {system}
            </label>
          ))}
        </fieldset>
      ))}
    </Dialog>
  );
}
