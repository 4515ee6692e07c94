import { changePreferences, usePreferences } from '../look/use-preferences.ts';
import { Dialog } from './dialog.tsx';
import { KEY_MAP } from './key-map.ts';

export function KeysDialog({ close }: { readonly close: () => void }) {
  const { keys } = usePreferences();
  return (
    <Dialog title="Keyboard map" close={close}>
      <dl className="keys">
        {KEY_MAP.map(({ key, does }) => (
          <div key={key}>
            <dt>
              <kbd>{key}</kbd>
            </dt>
            <dd>{does}</dd>
          </div>
        ))}
      </dl>
      <label className="check">
        <input
          type="checkbox"
          checked={keys}
          onChange={() => changePreferences((former) => ({ ...former, keys: !former.keys }))}
        />
        Single keys act at once
      </label>
    </Dialog>
  );
}
