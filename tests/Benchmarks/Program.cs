Console.WriteLine("ok");
