import { session } from 'electron';

/** The page needs no camera, position, notification or device: every permission is refused, asked for or looked up. */
export function refusePermissions(): void {
  const { defaultSession } = session;
  defaultSession.setPermissionRequestHandler((_contents, permission, answer) =>
    answer(permission === 'clipboard-sanitized-write'),
  );
  defaultSession.setPermissionCheckHandler((_contents, permission) => permission === 'clipboard-sanitized-write');
  defaultSession.setDevicePermissionHandler(() => false);
  // Nothing is fetched from elsewhere, whatever a document says.
  defaultSession.webRequest.onBeforeRequest((details, answer) => {
    answer({ cancel: !/^(crossloom|file|devtools|blob|data):/.test(details.url) });
  });
}
